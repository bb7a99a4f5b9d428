using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Results;
using Vanehour.Models.VaneWear;

namespace Vanehour.Reports.Trucks;

/// <summary>All that a truck's report draws. What does not exist stays empty: the report says so in words.</summary>
public sealed record TruckReportData
{
    public required Truck Truck { get; init; }

    /// <summary>The instant the report is true for; later runs and service records are not drawn.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>The model of the pump on the truck, or null where the register does not know it.</summary>
    public PumpModel? Model { get; init; }

    /// <summary>In order of time.</summary>
    public IReadOnlyList<Run> Runs { get; init; } = [];

    /// <summary>The truck's service records, in order of time.</summary>
    public IReadOnlyList<ServiceRecord> Service { get; init; } = [];

    public WearForecast? Wear { get; init; }

    public IndicatorSeries? OilUse { get; init; }

    public IndicatorSeries? TemperatureRise { get; init; }

    /// <summary>Open and acknowledged findings of the truck, most urgent first.</summary>
    public IReadOnlyList<Finding> Findings { get; init; } = [];

    /// <summary>Picks what belongs to a truck out of an analysis.</summary>
    /// <param name="snapshot">The analysis.</param>
    /// <param name="truck">The truck.</param>
    /// <param name="models">The register's pump models.</param>
    /// <param name="runs">The truck's runs, in order of time.</param>
    /// <param name="service">Service records in order of time; those of other trucks are passed over.</param>
    public static TruckReportData Of(
        AnalysisSnapshot snapshot,
        Truck truck,
        IEnumerable<PumpModel> models,
        IReadOnlyList<Run> runs,
        IEnumerable<ServiceRecord> service)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        ArgumentNullException.ThrowIfNull(truck);

        var wear = snapshot.Wear.FirstOrDefault(w => Same(w.Truck));
        var model = wear?.PumpModel ?? truck.PumpModel;
        return new TruckReportData
        {
            Truck = truck,
            AsOf = snapshot.AsOf,
            Model = models.FirstOrDefault(m => string.Equals(m.Model, model, StringComparison.Ordinal)),
            Runs = runs,
            Service = [.. service.Where(r => Same(r.Truck))],
            Wear = wear,
            OilUse = snapshot.Series.FirstOrDefault(s => Same(s.Truck) && s.Indicator == Indicator.OilUse),
            TemperatureRise = snapshot.Series.FirstOrDefault(s => Same(s.Truck) && s.Indicator == Indicator.TemperatureRise),
            Findings = [.. snapshot.Findings.Where(f => f.Status != FindingStatus.Closed && f.Truck is { } t && Same(t))],
        };

        bool Same(string id) => string.Equals(id, truck.Id, StringComparison.Ordinal);
    }
}
