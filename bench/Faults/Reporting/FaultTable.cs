using System.Globalization;
using System.Text;
using Vanehour.Bench.Faults.Scenarios;

namespace Vanehour.Bench.Faults.Reporting;

/// <summary>The results as one table and the notes below it, in Markdown that reads well in a terminal too.</summary>
internal static class FaultTable
{
    private static readonly string[] Head =
    [
        "fault", "times", "messages acknowledged", "samples expected", "stored", "lost", "lost by the killed broker", "duplicated or invented", "refused wrongly", "seconds", "",
    ];

    public static string Format(IReadOnlyList<FaultResult> results)
    {
        var rows = results.Select(Row).Append(Total(results)).ToList();
        var widths = Head.Select((h, i) => Math.Max(h.Length, rows.Max(r => r[i].Length))).ToArray();
        var text = new StringBuilder();
        Line(text, Head, widths);
        Line(text, [.. widths.Select((w, i) => i is 0 or 10 ? new string('-', w) : new string('-', w - 1) + ":")], widths);
        rows.ForEach(r => Line(text, r, widths));
        text.AppendLine();
        foreach (var result in results)
        {
            foreach (var note in result.Notes)
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"- {result.Fault}: {note}");
            }

            foreach (var failure in result.Failures.Concat(result.Verdict?.Damage.Select(d => "SQLite says: " + d) ?? []))
            {
                text.AppendLine(CultureInfo.InvariantCulture, $"- FAILED, {result.Fault}: {failure}");
            }
        }

        return text.ToString();
    }

    private static void Line(StringBuilder text, string[] cells, int[] widths)
    {
        text.Append('|');
        for (var i = 0; i < cells.Length; i++)
        {
            text.Append(' ').Append(i is 0 or 10 ? cells[i].PadRight(widths[i]) : cells[i].PadLeft(widths[i])).Append(" |");
        }

        text.AppendLine();
    }

    private static string[] Row(FaultResult r) => r.Verdict is not { } v
        ? [r.Fault, "0", "-", "-", "-", "-", "-", "-", "-", "-", "not tried"]
        :
        [
            r.Fault, N(r.Times), N(r.Acknowledged), N(v.Expected), N(v.Stored), N(r.LostByWorker), r.BrokerMayLose ? N(r.LostByBroker) : "-",
            N(r.DuplicatedOrInvented), N(r.WronglyRefused), N((long)Math.Round(r.Took.TotalSeconds)), r.IsGood ? "ok" : "FAILED",
        ];

    private static string[] Total(IReadOnlyList<FaultResult> all)
    {
        var tried = all.Where(r => r.Verdict is not null).ToList();
        return
        [
            "all", N(tried.Sum(r => r.Times)), N(tried.Sum(r => r.Acknowledged)), N(tried.Sum(r => r.Verdict!.Expected)), N(tried.Sum(r => r.Verdict!.Stored)),
            N(tried.Sum(r => r.LostByWorker)), N(tried.Sum(r => r.LostByBroker)), N(tried.Sum(r => r.DuplicatedOrInvented)), N(tried.Sum(r => r.WronglyRefused)),
            N((long)Math.Round(tried.Sum(r => r.Took.TotalSeconds))), tried.TrueForAll(r => r.IsGood) ? "ok" : "FAILED",
        ];
    }

    private static string N(long value) => value.ToString("#,0", CultureInfo.InvariantCulture).Replace(',', ' ');
}
