using Vanehour.Fleet;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Comparing;
using Vanehour.Reports.Overview;
using Vanehour.Reports.Planning;
using Vanehour.Reports.Rounds;
using Vanehour.Reports.Scores;
using Vanehour.Reports.Tests.Comparing;
using Vanehour.Reports.Tests.Planning;
using Vanehour.Reports.Tests.Rounds;
using Vanehour.Reports.Tests.Scores;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>Every kind of report with every story that the tests know.</summary>
internal static class DrawnReports
{
    /// <summary>What a truck, yard, model or fault could be called by somebody who wants to break the page.</summary>
    public const string HostileName = "</text><script>alert(1)</script> & ]]> \"'\u0000\u0007\u202E <b onload=x>";

    public static IReadOnlyDictionary<string, Func<DrawnReport>> All { get; } = Named();

    private static Dictionary<string, Func<DrawnReport>> Named()
    {
        var all = new Dictionary<string, Func<DrawnReport>>(StringComparer.Ordinal);
        foreach (var (name, tell) in TruckStories.All)
        {
            all["truck: " + name] = () => Truck(tell());
        }

        all["truck: script"] = () => Truck(new TruckStory { Name = HostileName, Yard = HostileName }.Tell());
        foreach (var trucks in new[] { 0, 12, 21 })
        {
            all[FormattableString.Invariant($"fleet: {trucks}")] = () => Fleet(trucks == 12 ? FleetStory.Twelve() : FleetStory.Many(trucks));
        }

        all["fleet: script"] = () => Fleet(FleetStory.Of([new TruckStory { Name = HostileName }, TruckStories.Hostile]));
        foreach (var name in PlanStories.Names)
        {
            all["plan: " + name] = () => Plan(PlanStories.Of(name).Data);
            all["digest: " + name] = () => Digest(name);
        }

        foreach (var (name, tell) in ComparisonStories.All)
        {
            all["comparison: " + name] = () => Comparison(tell());
        }

        all["comparison: script"] = () => Comparison(ComparisonStories.Tell([(HostileName, 25, 2000), ("x" + HostileName, 30, 1300)]));
        all["rounds: usual"] = () => Rounds(RoundStories.Tell(DriveKind.Gearbox, true, "Ann"));
        all["rounds: little known"] = () => Rounds(RoundStories.Tell(null, null, "Bartholomew of the Night Shift", new string('N', 80), string.Join(' ', Enumerable.Repeat("Yard", 40))));
        all["rounds: script"] = () => Rounds(RoundStories.Tell(DriveKind.Direct, false, HostileName, HostileName, HostileName));
        all["scores: usual"] = () => Scores("A fleet of 40 trucks, an analysis every 7 days.", ScoreStories.Rows);
        all["scores: script"] = () => Scores(HostileName, [new ScoreRow("<script>", 4, 3, 1)]);
        return all;
    }

    private static DrawnReport Truck(TruckReportData data) => new(
        (options, format) => [TruckReport.Draw(data, options, format)], o => [TruckReport.Render(data, o)], (o, c) => [TruckReport.RenderSvg(data, o, c)]);

    private static DrawnReport Fleet(FleetStory fleet) => new(
        (options, format) => FleetOverview.Draw(fleet.Snapshot, fleet.Trucks, options, format),
        o => FleetOverview.Render(fleet.Snapshot, fleet.Trucks, o),
        (o, c) => FleetOverview.RenderSvg(fleet.Snapshot, fleet.Trucks, o, c));

    private static DrawnReport Plan(PlanReportData data) => new(
        (options, format) => [PlanReport.Draw(data, options, format)], o => [PlanReport.Render(data, o)], (o, c) => [PlanReport.RenderSvg(data, o, c)]);

    private static DrawnReport Digest(string story)
    {
        var digest = PlanStories.Of(story).Digest;
        return new DrawnReport((options, format) => [DigestReport.Draw(digest, options, format)], o => [DigestReport.Render(digest, o)], (o, c) => [DigestReport.RenderSvg(digest, o, c)]);
    }

    private static DrawnReport Comparison(ComparisonReportData data) => new(
        (options, format) => [ComparisonReport.Draw(data, options, format)], o => [ComparisonReport.Render(data, o)], (o, c) => [ComparisonReport.RenderSvg(data, o, c)]);

    private static DrawnReport Rounds(TruckRounds rounds) => new(
        (options, format) => [RoundSheet.Draw(rounds, options, format)], o => [RoundSheet.Render(rounds, o)], (o, c) => [RoundSheet.RenderSvg(rounds, o, c)]);

    private static DrawnReport Scores(string title, IReadOnlyList<ScoreRow> rows) => new(
        (_, format) => [ScorePicture.Draw(title, rows, ScoreStories.Measures, format)],
        o => [ScorePicture.Render(title, rows, ScoreStories.Measures, o.Scale)],
        (_, c) => [ScorePicture.RenderSvg(title, rows, ScoreStories.Measures, c)]);
}
