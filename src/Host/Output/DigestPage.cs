using System.Globalization;
using Vanehour.Models.Planning;
using Vanehour.Reports.Planning;

namespace Vanehour.Host.Output;

/// <summary>The Monday digest as text.</summary>
internal static class DigestPage
{
    public static void Write(TextWriter output, MondayDigest digest)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Week {digest.Week} (from {digest.Week.Monday:yyyy-MM-dd}), by the analysis of {digest.AsOf.UtcDateTime:yyyy-MM-dd HH:mm}Z"));
        Section(output, "Stop first", digest.Stop.IsEmpty);
        PlanPage.WriteStops(output, digest.Stop);
        Jobs(output, "This week", digest.ThisWeek);
        Jobs(output, "Next week", digest.NextWeek);
        Section(output, "Order now", digest.OrderNow.IsEmpty);
        foreach (var order in digest.OrderNow)
        {
            output.WriteLine("  " + PlanWords.Of(order, digest.Week));
        }

        var since = digest.Since is { } at ? string.Create(CultureInfo.InvariantCulture, $"Changed since {at:yyyy-MM-dd}") : "Changed since last week (no plan is a week old yet)";
        Section(output, since, digest.Moves.IsEmpty);
        foreach (var move in digest.Moves)
        {
            output.WriteLine("  " + PlanWords.Of(move));
        }

        Section(output, "Findings that wait", digest.Waiting.IsEmpty);
        foreach (var finding in digest.Waiting)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {finding.Truck}: {finding.Kind} ({finding.Urgency}) since {finding.Since:yyyy-MM-dd}, {finding.Id}"));
        }

        Section(output, "Not heard", digest.Silent.IsEmpty);
        foreach (var truck in digest.Silent)
        {
            output.WriteLine(truck.LastHeard is { } heard ? string.Create(CultureInfo.InvariantCulture, $"  {truck.Truck}, last {heard.UtcDateTime:yyyy-MM-dd HH:mm}Z") : $"  {truck.Truck}, never");
        }

        foreach (var remark in digest.Remarks)
        {
            output.WriteLine(remark);
        }

        output.WriteLine("Before any job: PTO off, key out and locked out; vacuum and pressure bled to zero and the gauge read. The pump maker's manual, local codes and licensed practice come first.");
        if (digest.CostsAreExamples)
        {
            output.WriteLine(PlanWords.Costs(areExamples: true));
        }
    }

    private static void Jobs(TextWriter output, string title, IReadOnlyList<PlannedJob> jobs)
    {
        Section(output, title, jobs.Count == 0);
        foreach (var job in jobs)
        {
            output.WriteLine("  " + PlanWords.Of(job));
        }
    }

    private static void Section(TextWriter output, string title, bool isEmpty) => output.WriteLine(isEmpty ? $"{title}: nothing." : $"{title}:");
}
