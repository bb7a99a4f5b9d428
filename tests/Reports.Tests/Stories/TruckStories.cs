using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests.Stories;

/// <summary>The trucks that every drawing test meets: the usual, the sick, the new and the hostile.</summary>
public static class TruckStories
{
    private static readonly DateTimeOffset AsOf = TruckStory.DefaultAsOf;

    public static TruckStory OilStarved { get; } = new()
    {
        Id = "T03",
        Name = "Old Faithful",
        Seed = 3,
        OilStarvedDays = 45,
        Silence = (150, 35),
        Findings =
        [
            TruckStory.Finding("T03", FindingKind.OilUseLow, Urgency.Stop, AsOf.AddDays(-9), Cause.OilLineChoked),
            TruckStory.Finding("T03", FindingKind.RoundOverdue, Urgency.Later, AsOf.AddDays(-3), Cause.SensorWrong, FindingStatus.Acknowledged),
        ],
    };

    public static TruckStory Hot { get; } = new()
    {
        Id = "T04",
        Name = null,
        Seed = 4,
        LifeDays = 160,
        HotDays = 30,
        WithOil = false,
        Findings = [TruckStory.Finding("T04", FindingKind.RunningHot, Urgency.Week, AsOf.AddDays(-14), Cause.DischargeCarboned)],
    };

    public static TruckStory NearLimit { get; } = new()
    {
        Id = "T11",
        Name = "Vac 11",
        Seed = 12,
        LifeDays = 620,
        WearPer1000H = 0.62,
        Findings = [TruckStory.Finding("T11", FindingKind.VanesNearLimit, Urgency.Week, AsOf.AddDays(-20), Cause.VanesWorn)],
    };

    public static TruckStory Young { get; } = new() { Id = "T02", Seed = 2, LifeDays = 9, DaysBefore = 0, Status = ForecastStatus.TooFewChecks };

    public static TruckStory Provisional { get; } = new()
    {
        Id = "T05",
        Seed = 5,
        LifeDays = 50,
        DaysBefore = 120,
        Status = ForecastStatus.Provisional,
        WearSpread = 0.45,
    };

    public static TruckStory NotReached { get; } = new()
    {
        Id = "T06",
        Seed = 6,
        LifeDays = 300,
        WearPer1000H = 0.05,
        Status = ForecastStatus.NotReached,
        MaxRunsADay = 1,
    };

    public static TruckStory NoChecks { get; } = new() { Id = "T08", Seed = 8, ChecksADay = 0, Status = ForecastStatus.NoChecks };

    public static TruckStory FiveYears { get; } = new()
    {
        Id = "T09",
        Seed = 9,
        LifeDays = 1826,
        DaysBefore = 0,
        WearPer1000H = 0.17,
        MaxRunsADay = 4,
        Silence = (900, 130),
        ExtraService =
        [
            .. Enumerable.Range(0, 260).Select(i => Record(AsOf.AddDays(-1820 + (7 * i)), ServiceKind.Round)),
            .. Enumerable.Range(0, 60).Select(i => Record(AsOf.AddDays(-1815 + (30 * i)), ServiceKind.OilFill, 3.785, "L")),
            .. Enumerable.Range(0, 20).Select(i => Record(AsOf.AddDays(-1800 + (90 * i)), ServiceKind.InletFilter)),
        ],
    };

    public static TruckStory Hostile { get; } = new()
    {
        Id = new string('W', 64),
        Name = string.Concat(Enumerable.Repeat("Wide \u202Ename\twith \u0007 bells, 真空車 and \U0001F69B\u0301\u0301\u0301 ", 12)),
        Yard = new string('Y', 300),
        Zone = "No/Such_Zone",
        Seed = 10,
        Findings = [.. Enum.GetValues<FindingKind>().Select((k, i) =>
            TruckStory.Finding(new string('W', 64), k, (Urgency)(i % 3), AsOf.AddDays(-i), (Cause)i))],
        ExtraService = [.. Enum.GetValues<ServiceKind>()
            .Where(k => k is not (ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Fitted or ServiceKind.Removed))
            .Select(k => Record(AsOf.AddDays(-60), k, 1e300, "no such unit", new string('W', 64)))],
    };

    public static IReadOnlyDictionary<string, Func<TruckReportData>> All { get; } = new Dictionary<string, Func<TruckReportData>>(StringComparer.Ordinal)
    {
        ["healthy"] = () => new TruckStory().Tell(),
        ["oil-starved"] = () => OilStarved.Tell(),
        ["hot"] = () => Hot.Tell(),
        ["near-limit"] = () => NearLimit.Tell(),
        ["young"] = () => Young.Tell(),
        ["provisional"] = () => Provisional.Tell(),
        ["not-reached"] = () => NotReached.Tell(),
        ["too-few"] = () => new TruckStory { Status = ForecastStatus.TooFewChecks, ChecksADay = 0.01, Seed = 11 }.Tell(),
        ["no-checks"] = () => NoChecks.Tell(),
        ["empty"] = Empty,
        ["single-run"] = SingleRun,
        ["five-years"] = () => FiveYears.Tell(),
        ["extreme"] = Extreme,
        ["hostile"] = () => Hostile.Tell(),
    };

    public static TruckReportData Empty() => new()
    {
        Truck = new TruckStory { Id = "T99", Name = null, LifeDays = 30 }.Truck() with { PumpFitted = AsOf.AddDays(-30) },
        AsOf = AsOf,
    };

    private static TruckReportData SingleRun()
    {
        var told = new TruckStory { LifeDays = 4, DaysBefore = 0 }.Tell();
        return told with
        {
            Runs = [.. told.Runs.Take(1)],
            Service = [],
            Wear = told.Wear! with { Status = ForecastStatus.TooFewChecks, Checks = [.. told.Wear.Checks.Take(1)], Fan = [], Wear = null, DateOfLimit = null, HoursToLimit = null, Observations = 1 },
            OilUse = told.OilUse! with { Points = [.. told.OilUse.Points.Take(1)] },
            TemperatureRise = told.TemperatureRise! with { Points = [.. told.TemperatureRise.Points.Take(1)] },
        };
    }

    private static TruckReportData Extreme()
    {
        var told = new TruckStory { Id = "T13", Seed = 13 }.Tell();
        return told with
        {
            Truck = told.Truck with { PumpFitted = DateTimeOffset.MinValue },
            Runs = [.. told.Runs.Select((r, i) => i % 97 == 0 ? r with { HoursH = 1e6, TempRiseK = double.NaN } : r)],
            OilUse = Spoil(told.OilUse!),
            TemperatureRise = Spoil(told.TemperatureRise!),
            Wear = told.Wear! with
            {
                HoursSinceFitting = 1e12,
                Wear = new(-5, 1e9, double.PositiveInfinity),
                WearPer1000H = double.NaN,
                HoursPerDay = double.PositiveInfinity,
                HoursToLimit = new(double.NegativeInfinity, 1e300, double.NaN),
                DateOfLimit = new(DateTimeOffset.MinValue, AsOf.AddYears(7900), DateTimeOffset.MaxValue),
                Checks = [.. told.Wear.Checks.Select((c, i) => (i % 31) switch
                {
                    0 => c with { FlowKept = 1e15, Wear = -1e15, PlateauKPa = 1e15, FlowKeptSe = double.PositiveInfinity },
                    1 => c with { FlowKept = double.NaN, Wear = double.NaN, PlateauKPa = double.NaN },
                    _ => c,
                })],
            },
        };
    }

    private static IndicatorSeries Spoil(IndicatorSeries series) => series with
    {
        Points = [.. series.Points.Select((p, i) => (i % 41) switch
        {
            0 => p with { Seen = 1e18 },
            1 => p with { Seen = -1e18, ExpectedHigh = 1e18 },
            2 => p with { Seen = double.NaN, RunHours = double.NaN },
            3 => p with { RunHours = 0, ExpectedLow = double.NegativeInfinity, ExpectedHigh = double.PositiveInfinity },
            _ => p,
        })],
    };

    private static ServiceRecord Record(DateTimeOffset at, ServiceKind kind, double? value = null, string? unit = null, string truck = "T09") =>
        new() { At = at, Truck = truck, MeterH = 5000, Kind = kind, Value = value, Unit = unit };
}
