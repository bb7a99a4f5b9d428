using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Reports.Words;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Output;

/// <summary>Drills in words, for people.</summary>
internal static class DrillPage
{
    // The causes of the installation are none of a truck's.
    private static readonly IEnumerable<Cause> TruckCauses = DrillCases.Default.Groups.SelectMany(g => g.Causes);

    /// <summary>The task: what the driver said, how to look and how to answer.</summary>
    public static void Task(TextWriter output, DrillInfo drill, string folder)
    {
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"Drill \"{drill.Title}\", difficulty {drill.Difficulty}, seed {drill.Seed}: {Count.Of(drill.Trucks.Length, "truck")}, and it is {drill.AsOf:yyyy-MM-dd}. Everything in it is invented."));
        output.WriteLine();
        output.WriteLine(drill.ComplainedTruck is { } truck ? $"The driver of {truck} says:" : "A driver says, and does not know the truck's number any more:");
        output.WriteLine($"  \"{drill.Complaint}\"");
        output.WriteLine();
        output.WriteLine("Which truck is it, what is wrong with it, and what would you do? Look at:");
        var shown = drill.ComplainedTruck ?? drill.Trucks[0];
        foreach (var command in (string[])["trucks", "findings --explain", $"runs {shown}", "wear", $"report {shown}", "rounds", "board"])
        {
            output.WriteLine("  " + Invocation.Of(command, folder));
        }

        output.WriteLine("Then answer, in place of the capitals:");
        output.WriteLine("  " + Invocation.Of("drill answer TRUCK CAUSE ACTION --by NAME", folder));
        output.WriteLine($"CAUSE is one of {string.Join(", ", TruckCauses)}, or None where nothing is wrong.");
        output.WriteLine($"ACTION is one of {string.Join(", ", Enum.GetNames<DrillAction>())}.");
    }

    /// <summary>The answers so far, without a word of what they are worth.</summary>
    public static void Answers(TextWriter output, DrillInfo drill) =>
        output.WriteLine(drill.Answers.Length == 0 ? "Nobody has answered yet." : $"Answered so far: {string.Join(", ", drill.Answers.Select(a => a.By))}.");

    /// <summary>The reveal.</summary>
    public static void Reveal(TextWriter output, DrillReveal reveal, bool isTrade)
    {
        var (drill, truth) = (reveal.Drill, reveal.Truth);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Drill \"{drill.Title}\", difficulty {drill.Difficulty}, seed {drill.Seed}. The driver said: \"{drill.Complaint}\""));
        output.WriteLine();
        output.WriteLine("The truth: " + Truth(truth));
        output.WriteLine();
        output.WriteLine("Tell-tales on the charts:");
        Each(output, truth.TellTales);
        output.WriteLine($"{truth.Truck} before and after, medians, and the other trucks meanwhile:");
        Each(output, truth.Measures.Select(m => Measure(m, isTrade)));
        output.WriteLine(truth.Findings.Length == 0 ? "The analysis opened no finding." : "What the analysis had open:");
        Each(output, truth.Findings.Select(f => Finding(f, truth)));
        if (!truth.Found && truth.Cause is not null)
        {
            output.WriteLine("This is a hard case: the analysis does not usually name it.");
        }

        output.WriteLine();
        output.WriteLine("What points elsewhere:");
        Each(output, truth.Elsewhere.Select(e => $"{e.Cause?.ToString() ?? "None"}: {e.Tempting} Ruled out: {e.RuledOutBy}"));
        output.WriteLine();
        output.WriteLine($"The check that settles it: {truth.Check}");
        output.WriteLine($"Caution: {truth.Caution} The pump maker's manual and local codes come first.");
        output.WriteLine($"Right: {string.Join(" or ", truth.RightActions)}{(truth.AcceptableActions.Length > 0 ? $"; will do: {string.Join(" or ", truth.AcceptableActions)}" : string.Empty)}.");
        output.WriteLine();
        output.WriteLine("Scores: " + reveal.Rule);
        foreach (var s in reveal.Scores)
        {
            output.WriteLine(
                $"  {s.Answer.By}: {s.Total} of 10 (truck {s.TruckPoints}, cause {s.CausePoints}, action {s.ActionPoints}) for {s.Answer.Truck}, {s.Answer.Cause?.ToString() ?? "None"}, {s.Answer.Action}"
                + (s.Answer.Attempts > 1 ? $"; attempt {s.Answer.Attempts}" : string.Empty));
        }

        if (reveal.Scores.Length == 0)
        {
            output.WriteLine("  Nobody answered.");
        }
    }

    private static string Truth(DrillTruth truth) => truth switch
    {
        { Cause: null } => $"nothing is wrong with {truth.Truck}, nor with any other truck.",
        { Onset: { } onset, FullAt: { } full, Severity: { } severity } => string.Create(
            CultureInfo.InvariantCulture,
            $"{truth.Truck}, {truth.Cause}, from {onset:yyyy-MM-dd}{(full > onset ? $", fully grown on {full:yyyy-MM-dd}" : ", at one stroke")} (severity {severity:0.00} of 1)."),
        _ => $"{truth.Truck}, {truth.Cause}: no fault, its vanes are near the end of their life.",
    };

    private static string Finding(DrillFinding finding, DrillTruth truth)
    {
        var place = truth.Cause is { } cause ? finding.Causes.IndexOf(cause) + 1 : 0;
        var where = finding.Truck != truth.Truck ? "not the drill's truck: a false alarm or plain wear"
            : truth.Cause is null ? "a false alarm"
            : place == 0 ? "does not name the truth"
            : $"the truth in place {place}";
        return string.Create(CultureInfo.InvariantCulture, $"{finding.Truck} {finding.Kind} since {finding.Since:yyyy-MM-dd}: {string.Join(", ", finding.Causes.Take(3))} ({where})");
    }

    private static string Measure(DrillMeasure m, bool isTrade)
    {
        var (unit, convert) = isTrade ? EvidenceText.Trade(m.Unit) : (m.Unit, v => v);
        var change = m.Before == 0 ? string.Empty : Percent(100 * (m.After - m.Before) / m.Before);
        return $"{m.Name}: {EvidenceText.Digits(convert(m.Before))} -> {EvidenceText.Digits(convert(m.After))}{(unit is "1" or "" ? string.Empty : " " + unit)}"
            + (change.Length == 0 ? string.Empty : $" ({change}{(m.OthersChangePercent is { } others ? $"; others {Percent(others)}" : string.Empty)})");
    }

    private static string Percent(double value) => Math.Round(value) == 0 ? "0 %" : value.ToString("+0;-0", CultureInfo.InvariantCulture) + " %";

    private static void Each(TextWriter output, IEnumerable<string> lines)
    {
        foreach (var line in lines)
        {
            output.WriteLine("  - " + line);
        }
    }
}
