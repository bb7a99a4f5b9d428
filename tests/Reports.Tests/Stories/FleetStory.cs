using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Results;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests.Stories;

/// <summary>Fleets of invented trucks with the analysis that could have been left of them.</summary>
public sealed record FleetStory(IReadOnlyList<Truck> Trucks, IReadOnlyList<TruckReportData> Told)
{
    public AnalysisSnapshot Snapshot => new()
    {
        AsOf = TruckStory.DefaultAsOf,
        Models = [],
        Series = [.. Told.SelectMany(t => new[] { t.OilUse, t.TemperatureRise }).Where(s => s is not null).Select(s => s!)],
        Wear = [.. Told.Select(t => t.Wear).Where(w => w is not null).Select(w => w!)],
        Findings = [.. Told.SelectMany(t => t.Findings)],
    };

    /// <summary>The truck stories with a few plain ones, 12 trucks.</summary>
    public static FleetStory Twelve() => Of(
    [
        new TruckStory(),
        TruckStories.OilStarved,
        TruckStories.Hot,
        TruckStories.NearLimit,
        TruckStories.Young,
        TruckStories.Provisional,
        TruckStories.NotReached,
        TruckStories.NoChecks,
        new TruckStory { Id = "T12", Seed = 21, WearPer1000H = 0.8, Name = "Long John" },
        new TruckStory { Id = "T14", Seed = 22, WearPer1000H = 1.2, Name = "Rusty" },
        new TruckStory { Id = "T15", Seed = 23, WearPer1000H = 0.6, WearSpread = 0.5 },
        new TruckStory { Id = "T16", Seed = 24, WearPer1000H = 0.7, LifeDays = 300 },
    ]);

    public static FleetStory Of(IEnumerable<TruckStory> stories)
    {
        var told = stories.Select(s => s.Tell()).ToList();
        return new FleetStory([.. told.Select(t => t.Truck).OrderBy(t => t.Id, StringComparer.Ordinal)], told);
    }

    /// <summary>A fleet of <paramref name="count"/> trucks of all sorts.</summary>
    public static FleetStory Many(int count) => Of(Enumerable.Range(1, count).Select(i => new TruckStory
    {
        Id = FormattableString.Invariant($"VT-{i:000}"),
        Name = i % 3 == 0 ? null : FormattableString.Invariant($"Tanker {i}"),
        Seed = i,
        LifeDays = 40 + (i * 37 % 500),
        DaysBefore = 0,
        WearPer1000H = 0.2 + (i * 0.13 % 1),
        Status = (ForecastStatus)(i % 7 < 3 ? 0 : i % 5),
        Findings = i % 9 != 0 ? [] :
        [
            TruckStory.Finding(FormattableString.Invariant($"VT-{i:000}"), (FindingKind)(i % 16), (Urgency)(i % 3), TruckStory.DefaultAsOf.AddDays(-3), Cause.HoseLiningInlet),
        ],
    }));
}
