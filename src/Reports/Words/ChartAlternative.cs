using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Models.Planning;
using Vanehour.Models.Results;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Comparing;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Overview;
using Vanehour.Reports.Planning;
using Vanehour.Reports.Scores;
using Vanehour.Reports.Time;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Words;

/// <summary>What each picture says, in a few plain sentences from the same data, for those who can't see it. The texts are plain: escape them where they go.</summary>
public static class ChartAlternative
{
    private const int MostNamed = 5;

    /// <summary>A truck's page: as of when, wear and its limit, open findings, temperature and oil against what is expected, the last service.</summary>
    /// <param name="data">What is drawn.</param>
    /// <param name="options">How it is drawn: the units.</param>
    public static string Of(TruckReportData data, ReportOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        return Sentences(TruckAlternative.Of(new TruckScope(data, options)));
    }

    /// <summary>The overview: how many trucks, which to stop, which are next at their limit.</summary>
    /// <param name="snapshot">The analysis.</param>
    /// <param name="trucks">The register's trucks.</param>
    public static string Of(AnalysisSnapshot snapshot, IReadOnlyList<Truck> trucks)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        ArgumentNullException.ThrowIfNull(trucks);
        var rows = FleetRow.Of(snapshot, trucks);
        var stop = rows.Where(r => r.MustStop).Select(r => $"{r.Truck.Id} ({FindingWords.Of(r.Findings[0].Kind)})").ToList();
        var next = rows.Where(r => r.Limit is not null).OrderBy(r => r.Limit).Take(3).Select(r => $"{r.Truck.Id} ({LimitOf(r)})").ToList();
        return Sentences(
        [
            $"As of {Instant(snapshot.AsOf)}: {FleetOverview.Summary(rows, snapshot.AsOf)}.",
            stop.Count > 0 ? $"Stop now: {Some(stop)}." : null,
            next.Count > 0 ? $"Next at the wear limit, most likely: {string.Join(", ", next)}." : null,
        ]);

        string LimitOf(FleetRow row) => ForecastWords.Date(row.Limit, new TimeScale(TimeScale.Zone(row.Truck.TimeZone), snapshot.AsOf, snapshot.AsOf, snapshot.AsOf));
    }

    /// <summary>The plan: jobs, weeks, what to stop first, the next jobs, what finds no room.</summary>
    /// <param name="data">What is drawn.</param>
    public static string Of(PlanReportData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        var plan = data.Plan;
        return Sentences(
        [
            $"{PlanReport.Summary(plan)}.",
            plan.Stop.IsEmpty ? null : $"Stop first: {Some([.. plan.Stop.Select(s => s.Truck)])}.",
            plan.Jobs.IsEmpty ? null : $"Next: {string.Join(", ", plan.Jobs.Take(3).Select(j => $"{j.Truck} in {j.Week}"))}.",
            PlanWords.NoRoom(plan),
        ]);
    }

    /// <summary>The digest: how many jobs this week and next, orders, moves, what waits and who is silent.</summary>
    /// <param name="digest">What is drawn.</param>
    public static string Of(MondayDigest digest)
    {
        ArgumentNullException.ThrowIfNull(digest);
        return Sentences(
        [
            digest.Stop.IsEmpty ? null : $"Stop first: {Some([.. digest.Stop.Select(s => s.Truck)])}.",
            $"Week {digest.Week}: {Counted(digest.ThisWeek.Length, "rebuild")} this week, {Counted(digest.NextWeek.Length, "rebuild")} next week, {Counted(digest.OrderNow.Length, "order")} to place now, {Counted(digest.Moves.Length, "change")}.",
            $"{Counted(digest.Waiting.Length, "finding")} {(digest.Waiting.Length == 1 ? "waits" : "wait")}; {Counted(digest.Silent.Length, "truck")} not heard.",
        ]);
    }

    /// <summary>The comparison: the models, and what can be said of each pair.</summary>
    /// <param name="data">What is drawn.</param>
    public static string Of(ComparisonReportData data)
    {
        ArgumentNullException.ThrowIfNull(data);
        var rows = ComparedRow.Of(data.Comparison);
        return Sentences(
        [
            $"{ComparisonReport.Summary(data.Comparison, rows)}{(rows.Count == 0 ? string.Empty : ": " + Some([.. rows.Select(r => r.Name)]))}.",
            .. VerdictWords.Of(data.Comparison, rows, n => n).Where(v => v.Said.Length > 0).Select(v => $"{v.About}: {v.Said}"),
            rows.Count == 1 ? "There is one model only: nothing to compare it with." : null,
        ]);
    }

    /// <summary>A sheet of rounds: how many checks, which the data asks for, which are overdue.</summary>
    /// <param name="rounds">What is drawn.</param>
    public static string Of(TruckRounds rounds)
    {
        ArgumentNullException.ThrowIfNull(rounds);
        var pulled = rounds.Items.Where(i => i.State == RoundState.PulledForward).Select(i => i.Check.Text).ToList();
        var late = rounds.Items.Where(i => i.IsOverdue).Select(i => i.Check.Text).ToList();
        return Sentences(
        [
            $"Rounds of truck {rounds.Truck.Id}, {Counted(rounds.Items.Length, "check")}, as of {DateWords.DayAndTime(TimeZoneInfo.ConvertTime(rounds.AsOf, TimeScale.Zone(rounds.Truck.TimeZone)).DateTime)}.",
            pulled.Count > 0 ? $"The data asks for now: {Some(pulled)}." : null,
            late.Count > 0 ? $"Overdue: {Some(late)}." : "None is overdue.",
        ]);
    }

    /// <summary>An evaluation: how many faults were found, and how many by fixed thresholds.</summary>
    /// <param name="title">What was evaluated.</param>
    /// <param name="rows">The faults that are drawn.</param>
    public static string Of(string title, IReadOnlyList<ScoreRow> rows)
    {
        ArgumentNullException.ThrowIfNull(title);
        ArgumentNullException.ThrowIfNull(rows);
        return Sentences(
        [
            title,
            .. rows.Where(r => r.Judged > 0).Select(r => string.Create(CultureInfo.InvariantCulture, $"{r.Name}: {r.Found} of {r.Judged} found, {r.FoundByThresholds} by fixed thresholds.")),
        ]);
    }

    internal static string Some(IReadOnlyList<string> names) =>
        string.Join(", ", names.Take(MostNamed)) + (names.Count > MostNamed ? $" and {NumberWords.Whole(names.Count - MostNamed)} more" : string.Empty);

    private static string Counted(int count, string one) => count == 1 ? $"1 {one}" : $"{NumberWords.Whole(count)} {one}s";

    private static string Instant(DateTimeOffset at) => DateWords.DayAndTime(at.UtcDateTime) + " UTC";

    private static string Sentences(IEnumerable<string?> sentences) =>
        string.Join(' ', sentences.OfType<string>().Select(s => TextFit.Clean(s.Replace(" · ", ", ", StringComparison.Ordinal))).Where(s => s.Length > 0));
}
