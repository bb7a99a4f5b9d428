using System.Globalization;
using Vanehour.Models.Findings;
using Vanehour.Reports.Words;
using Vanehour.Scoring;

namespace Vanehour.Host.Output;

/// <summary>An evaluation for people.</summary>
internal static class EvaluationPage
{
    public static readonly Column<FaultScore>[] FaultColumns =
    [
        new("fault", "Fault", f => f.Fault),
        new("injected", "Injected", f => f.Injected),
        new("judged", "Judged", f => f.Judged),
        new("found", "Found", f => f.Found),
        new("found_before_harm", "Before harm", f => f.FoundBeforeHarm),
        new("cause_first", "Cause first", f => f.CauseFirst),
        new("cause_in_first_three", "In first three", f => f.CauseInFirstThree),
        new("median_lead_h", "Median lead, h", f => f.MedianLeadH, "0"),
        new("median_delay_h", "Median delay, h", f => f.MedianDelayH, "0"),
    ];

    private sealed record Row(FaultScore Ours, FaultScore? Fixed);

    /// <summary>A measure as it is printed.</summary>
    public sealed record Measure(string Name, string Findings, string Thresholds);

    /// <summary>The measures that sum an evaluation up.</summary>
    public static IReadOnlyList<Measure> Measures(EvaluationResult result)
    {
        Measure Of(string name, Func<TruthScore, ShareWithInterval> of) => new(name, Text(of(result.Findings)), Text(of(result.Thresholds)));
        return
        [
            Of("faults found", s => s.Found),
            Of("serious faults found before harm", s => s.SeriousBeforeHarm),
            Of("true cause ranked first", s => s.CauseFirst),
            Of("true cause in the first three", s => s.CauseInFirstThree),
            Of("false findings per truck-year", s => s.FalsePerTruckYear),
        ];
    }

    public static void Write(TextWriter output, EvaluationResult result, bool each)
    {
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Count.Of(result.Trucks, "truck")}, {result.TruckYears:0.0} truck-years, an analysis every {result.Every.TotalDays:0.##} days from {result.From.UtcDateTime:yyyy-MM-dd} to {result.To.UtcDateTime:yyyy-MM-dd}."));
        output.WriteLine();
        var fixedBy = result.Thresholds.Faults.ToDictionary(f => f.Fault, StringComparer.Ordinal);
        Listing.WriteTable(
            output,
            [.. result.Findings.Faults.Select(f => new Row(f, fixedBy.GetValueOrDefault(f.Fault))), new Row(result.Findings.All, result.Thresholds.All)],
            [
                .. FaultColumns.Select(c => new Column<Row>(c.Name, c.Heading, r => c.Value(r.Ours), c.Format)),
                new Column<Row>("fixed_found", "Fixed: found", r => r.Fixed?.Found),
                new Column<Row>("fixed_before_harm", "Fixed: before harm", r => r.Fixed?.FoundBeforeHarm),
            ],
            4000);
        output.WriteLine();
        Listing.WriteTable(
            output,
            Measures(result),
            [new("measure", "Measure", m => m.Name), new("findings", "Findings", m => m.Findings), new("fixed", "Fixed thresholds", m => m.Thresholds)],
            4000);
        output.WriteLine("Shares with 95 % intervals from resampling trucks. Causes are counted among found faults, when the finding opened. Fixed thresholds: raw signals, set once, two runs in a row.");
        output.WriteLine($"Opened: {ByKind(result.Findings.OpenedByKind)}. Not borne out by the truth: {ByKind(result.Findings.FalseByKind)}. Opened again after closing: {result.Findings.Reopened}.");
        if (result.Drift is { } drift)
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Vanes that began to wear faster: {drift.Drifts}; found within {drift.WithinH:0} PTO hours {Text(drift.Found)}, on the other trucks in the same time {Text(drift.Control)}; median {drift.MedianH:0} PTO hours."));
        }

        foreach (var f in result.Forecasts.Where(f => f.Lives > 0))
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"Wear limit, {f.AheadH:0} h ahead, {(f.Lives == 1 ? "1 life" : f.Lives + " lives")}: inside the 80 % interval {Text(f.Coverage80)}; median relative error {f.MedianRelativeError:0.00}."));
        }

        if (each)
        {
            WriteEach(output, result.Findings);
        }
    }

    private static void WriteEach(TextWriter output, TruthScore score)
    {
        output.WriteLine();
        Listing.WriteTable(
            output,
            score.Outcomes,
            [
                new("truck", "Truck", o => o.Truck),
                new("fault", "Fault", o => o.Cause.ToString()),
                new("severity", "Severity", o => o.Severity),
                new("onset", "Onset", o => o.Onset, "yyyy-MM-dd"),
                new("harm_at", "Harm", o => o.HarmAt, "yyyy-MM-dd"),
                new("ends", "Ends", o => o.Ends, "yyyy-MM-dd"),
                new("found", "Found", o => o.Story?.OpenedAt, "yyyy-MM-dd"),
                new("kind", "By", o => o.Story?.First.Kind.ToString()),
                new("rank", "Place of cause", o => o.Rank),
                new("last_rank", "Place at last", o => o.LastRank),
            ],
            4000);
        output.WriteLine();
        if (score.False.IsEmpty)
        {
            output.WriteLine("No false finding.");
            return;
        }

        Listing.WriteTable<FindingStory>(
            output,
            score.False,
            [
                new("truck", "Truck", s => s.Truck),
                new("kind", "False finding", s => s.First.Kind.ToString()),
                new("since", "Since", s => s.First.Since, "yyyy-MM-dd"),
                new("opened", "Opened", s => s.OpenedAt, "yyyy-MM-dd"),
                new("last_open", "Last open", s => s.LastOpenAt, "yyyy-MM-dd"),
                new("reopened", "Reopened", s => s.Reopened),
                new("evidence", "Evidence", s => string.Join("; ", s.First.Evidence.Select(e => EvidenceText.Of(e, false)))),
            ],
            4000);
    }

    private static string ByKind(IEnumerable<KeyValuePair<FindingKind, int>> kinds) =>
        string.Join(", ", kinds.Select(k => $"{k.Key} {k.Value}")) is { Length: > 0 } text ? text : "none";

    private static string Text(ShareWithInterval share) =>
        share.Mid is null ? "-" : string.Create(CultureInfo.InvariantCulture, $"{share.Mid:0.00} ({share.Low:0.00} to {share.High:0.00})");
}
