using Vanehour.Models.Analysis;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.Comparing;

/// <summary>Made-up pumps, lives and forecasts; every value is invented.</summary>
internal static class Made
{
    /// <summary>Pumps of one model, each of its own factor on the usual oil use of 0.5 L/h.</summary>
    public static IReadOnlyList<PumpHistory> Pumps(string model, IReadOnlyList<double> oilFactors, int seed, int days = 28, Func<double, double>? fault = null) => new SyntheticFleet(
        [.. oilFactors.Select((f, i) => new SyntheticTruck { Id = $"{model}-{i}", OilFactor = f, OilFault = i == 0 && fault is not null ? fault : _ => 1 })], days, seed, 4, model).Data().Pumps;

    /// <summary>The same pumps under heavier vacuum, with the oil that the made-up fleet uses for it.</summary>
    public static IReadOnlyList<PumpHistory> Heavier(IReadOnlyList<PumpHistory> pumps, double kPa) =>
    [
        .. pumps.Select(p => p with { Runs = [.. p.Runs.Select(r => r with { VacuumMeanKPa = r.VacuumMeanKPa + kPa, OilUsedL = r.OilUsedL + (0.004 * kPa * r.HoursH) })] }),
    ];

    public static WearForecast Forecast(string truck, string model, double? rate, double? se) => new()
    {
        Truck = truck,
        PumpSerial = "P-" + truck,
        PumpModel = model,
        AsOf = SyntheticFleet.Begin,
        HoursSinceFitting = 800,
        Observations = 40,
        Status = rate is null ? ForecastStatus.TooFewChecks : ForecastStatus.Forecast,
        FlowKeptLimit = 0.7,
        WearPer1000H = rate,
        WearPer1000HSe = se,
        Checks = [],
        Fan = [],
        Remarks = [],
    };

    public static PumpLife Life(string truck, string model, double hours, LifeEnding ending, double entryH = 0) => new()
    {
        Truck = truck,
        PumpSerial = "P-" + truck,
        PumpModel = model,
        FittedAt = DateTimeOffset.UnixEpoch,
        Until = DateTimeOffset.UnixEpoch.AddYears(3),
        EntryH = entryH,
        ExitH = hours,
        Ending = ending,
    };
}
