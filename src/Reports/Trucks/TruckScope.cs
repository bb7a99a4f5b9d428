using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Runs;
using Vanehour.Reports.Time;

namespace Vanehour.Reports.Trucks;

/// <summary>What the panels of one truck's page share.</summary>
internal sealed class TruckScope
{
    // What is shown at least: of a pump with a past, enough of it to compare with; of a new truck, two weeks. Chosen.
    private const double ShortestPastDays = 60;
    private const double ShortestDays = 14;

    // The most that is shown ahead for the sake of the forecast, against the past; chosen.
    private const double MostAhead = 1.25;

    public TruckScope(TruckReportData data, ReportOptions options)
    {
        Data = data;
        Units = options.Units;
        Runs = [.. data.Runs.Where(r => r.Start <= data.AsOf && double.IsFinite(r.HoursH))];
        Service = [.. data.Service.Where(s => s.At <= data.AsOf)];
        Lives = LifeHistory.Build(data.Truck, Service);
        Life = Lives.LastOrDefault(l => l.Covers(data.AsOf));
        var from = options.From is { } given && given < data.AsOf.AddDays(-1) ? given : DefaultFrom();
        Time = new TimeScale(TimeScale.Zone(data.Truck.TimeZone), from, data.AsOf, UpTo(from));
        Bins = new TimeBins(Time);
        Ticks = TimeTicks.Between(Time.Start, Time.End, 11);
    }

    public TruckReportData Data { get; }

    public DisplayUnits Units { get; }

    /// <summary>The runs up to the instant of the report.</summary>
    public IReadOnlyList<Run> Runs { get; }

    /// <summary>The service records up to the instant of the report.</summary>
    public IReadOnlyList<ServiceRecord> Service { get; }

    public IReadOnlyList<Life> Lives { get; }

    /// <summary>The life running, or null where no pump is on.</summary>
    public Life? Life { get; }

    public TimeScale Time { get; }

    public TimeBins Bins { get; }

    public IReadOnlyList<TimeTick> Ticks { get; }

    /// <summary>PTO hours since the pump was fitted, h; null where no pump is on or nothing is known.</summary>
    public double? HoursSinceFitting
    {
        get
        {
            if (Data.Wear is { } wear)
            {
                return wear.HoursSinceFitting;
            }

            return Life is { } life && Runs.LastOrDefault(r => r.Start >= life.FittedAt)?.MeterEndH is { } meter
                ? Math.Max(0, meter - life.MeterAtFittingH)
                : null;
        }
    }

    // From a little before the fitting, so that the fitting itself is seen; not from long before the first data.
    private DateTimeOffset DefaultFrom()
    {
        var fitted = Life?.FittedAt ?? Lives[^1].FittedAt;
        var first = Runs.Select(r => r.Start).Take(1)
            .Concat((Data.Wear?.Checks ?? []).Select(c => c.At).Take(1))
            .Concat((Data.OilUse?.Points ?? []).Select(p => p.At).Take(1))
            .Cast<DateTimeOffset?>()
            .Min();
        var start = fitted < first || first is null ? first ?? Data.AsOf : fitted;
        var known = first is { } f ? (Data.AsOf - f).TotalDays * 1.06 : 0;
        var past = Math.Max((Data.AsOf - start).TotalDays * 1.06, Math.Max(Math.Min(known, ShortestPastDays), ShortestDays));
        return Data.AsOf.AddDays(-past);
    }

    // Ahead there is room for the forecast as long as that leaves the past most of its half of the page, and always enough for the labels of lines.
    private DateTimeOffset UpTo(DateTimeOffset from)
    {
        var past = (Data.AsOf - from).TotalDays;
        var limit = Data.Wear?.DateOfLimit;
        var last = new[] { limit?.P90, limit?.P50 }
            .Select(t => t is { } at ? (at - Data.AsOf).TotalDays * 1.06 : double.PositiveInfinity)
            .FirstOrDefault(days => days <= past * MostAhead, past * 0.4);
        return Data.AsOf.AddDays(Math.Max(last, past * 0.35));
    }
}
