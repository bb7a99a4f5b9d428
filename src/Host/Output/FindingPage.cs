using System.Globalization;
using Vanehour.Models.ChangePoints;
using Vanehour.Models.Findings;
using Vanehour.Reports.Words;

namespace Vanehour.Host.Output;

/// <summary>A finding as a page that a technician can read.</summary>
internal static class FindingPage
{
    public static void Write(TextWriter output, Finding finding, bool isTrade)
    {
        var where = finding.Truck is { } truck ? $"{truck}{Pump(finding)}" : "The installation";
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{where}: {finding.Kind}, {Words(finding.Urgency)}, since {finding.Since:yyyy-MM-dd} (finding {finding.Id})"));
        foreach (var mark in Marks(finding))
        {
            output.WriteLine("  " + mark);
        }

        output.WriteLine("  What the data says:");
        foreach (var evidence in finding.Evidence)
        {
            output.WriteLine("    " + EvidenceText.Of(evidence, isTrade));
        }

        if (finding.Began is { } began)
        {
            output.WriteLine("    " + Words(began, isTrade));
        }

        if (!finding.Signs.IsEmpty)
        {
            output.WriteLine("  How the pump stands otherwise, against the time before:");
            foreach (var sign in finding.Signs)
            {
                output.WriteLine("    " + SignText.Of(sign, isTrade));
            }
        }

        // A round that was not made has none.
        if (!finding.Causes.IsEmpty)
        {
            output.WriteLine("  Likely causes, likeliest first:");
        }

        foreach (var cause in finding.Causes)
        {
            var speaks = (cause.For.IsEmpty ? string.Empty : "; for it: " + SignText.Names(cause.For))
                + (cause.Against.IsEmpty ? string.Empty : "; against it: " + SignText.Names(cause.Against));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"    {cause.Weight,5:0 %}  {cause.Cause}{speaks}"));
        }

        output.WriteLine("  Check, in this order:");
        foreach (var (check, number) in finding.Checks.Select((c, i) => (c, i + 1)))
        {
            output.WriteLine($"    {number}. {check.Name}");
            output.WriteLine($"       CAUTION: {check.Caution}");
        }

        output.WriteLine("  The pump maker's manual, local codes and licensed practice come first. Vanehour advises; it never controls.");
        output.WriteLine();
    }

    // A finding about the truck is of no pump.
    private static string Pump(Finding finding) => finding.PumpSerial is { } serial ? $", pump {serial}" : finding.Kind == FindingKind.RoundOverdue ? string.Empty : ", pump unknown";

    private static string Words(Beginning began, bool isTrade)
    {
        var size = EvidenceText.Of(new Evidence(string.Empty, began.Size, began.Unit, null, null), isTrade).TrimStart();
        var service = began.Service is { } kind ? $", about when the service record {kind} was made" : string.Empty;
        return began.Kind == ChangeKind.Step
            ? string.Create(CultureInfo.InvariantCulture, $"It came at one stroke on {began.At:yyyy-MM-dd} (by {size}){service}.")
            : string.Create(CultureInfo.InvariantCulture, $"It has grown since about {began.At:yyyy-MM-dd} (by {size} so far).");
    }

    private static IEnumerable<string> Marks(Finding finding)
    {
        if (finding.Status == FindingStatus.Acknowledged)
        {
            yield return $"Acknowledged{(finding.AcknowledgedBy is { } by ? " by " + by : string.Empty)}.";
        }

        if (finding is { Status: FindingStatus.Closed, Closed: { } closed })
        {
            var found = finding.NothingFound ? "; nothing was found" : finding.CauseFound is { } cause ? $"; found: {cause}" : string.Empty;
            yield return string.Create(CultureInfo.InvariantCulture, $"Closed on {closed:yyyy-MM-dd}{found}{(finding.ClosedBy is { } by ? $", says {by}" : string.Empty)}.");
        }

        if (finding.Note is { } note)
        {
            yield return $"Note: {note}";
        }
    }

    private static string Words(Urgency urgency) => urgency switch
    {
        Urgency.Stop => "STOP NOW",
        Urgency.Week => "this week",
        _ => "later",
    };
}
