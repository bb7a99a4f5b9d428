using System.Globalization;
using Vanehour.Models.Comparing;
using Vanehour.Models.PumpLives;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Comparing;

/// <summary>What a comparison says of each pair of models, in plain sentences, one paragraph a measure.</summary>
internal static class VerdictWords
{
    private const int MostNamed = 3;

    /// <summary>The paragraphs: what it is about, and what is said.</summary>
    /// <param name="comparison">The comparison.</param>
    /// <param name="rows">The models in the picture.</param>
    /// <param name="nameOf">How a model is named, where there is little room.</param>
    public static IReadOnlyList<(string About, string Said)> Of(ModelComparison comparison, IReadOnlyList<ComparedRow> rows, Func<string, string> nameOf)
    {
        if (rows.Count < 2)
        {
            return [];
        }

        var shown = rows.ToDictionary(r => r.Name, StringComparer.Ordinal);
        return
        [
            ("Life", Paragraph([.. comparison.Lives.Pairs.Where(p => IsShown(p.A, p.B))
                .Select(p => new Said(nameOf(p.A), nameOf(p.B), p.PAdjusted, p.Verdict, p.FailuresNeeded, Order(shown[p.A].Life.MedianLifeH.Mid, shown[p.B].Life.MedianLifeH.Mid)))], "lasts longer than", "lives", "failures of both together")),
            ("Oil", Paragraph(Pairs(comparison.Oil, r => r.Oil), "uses more oil per hour than", "pumps", "pumps of each")),
            ("Wear", comparison.Wear is { } wear ? Paragraph(Pairs(wear, r => r.Wear), "wears faster than", "pumps", "pumps of each") : "Nothing is analysed yet."),
        ];

        bool IsShown(string a, string b) => shown.ContainsKey(a) && shown.ContainsKey(b);

        List<Said> Pairs(MeasureComparison measure, Func<ComparedRow, ModelMeasure?> of) =>
        [
            .. measure.Pairs.Where(p => IsShown(p.A, p.B))
                .Select(p => new Said(nameOf(p.A), nameOf(p.B), p.PAdjusted, p.Verdict, p.PumpsNeeded, Order(of(shown[p.A])?.Value?.Mid, of(shown[p.B])?.Value?.Mid))),
        ];
    }

    private static int Order(double? a, double? b) => a is { } x && b is { } y ? x.CompareTo(y) : 0;

    private static string Paragraph(List<Said> pairs, string more, string few, string needs)
    {
        var sentences = pairs.Where(p => p.Verdict == PairVerdict.Differs)
            .Select(p => (More: p.Order < 0 ? p.B : p.A, Less: p.Order < 0 ? p.A : p.B, Verb: p.Order == 0 ? "differs from" : more, p.P))
            .GroupBy(p => (p.More, p.Verb))
            .Select(g => $"{g.Key.More} {g.Key.Verb} {Listed([.. g.Select(p => $"{p.Less} ({Chance(p.P)})")])}.")
            .ToList();
        var alike = pairs.Where(p => p.Verdict == PairVerdict.NoEvidence).ToList();
        if (alike.Count > 0)
        {
            sentences.Add($"No evidence of a difference: {(alike.Count == pairs.Count && alike.Count > 1 ? "every pair" : Names(alike))}.");
        }

        var open = pairs.Where(p => p.Verdict is PairVerdict.TooFewLives or PairVerdict.TooFewPumps).ToList();
        if (open.Count > 0)
        {
            var needed = open.Select(p => p.Needed).OfType<int>().Order().ToList();
            var takes = needed.Count == 0 ? "" : needed[0] == needed[^1] ? $"; it takes about {needed[0]} {needs}" : $"; it takes about {needed[0]} to {needed[^1]} {needs}";
            sentences.Add($"Too few {few} to say: {Open(open, pairs.Count)}{takes}.");
        }

        return string.Join(' ', sentences);
    }

    private static string Names(List<Said> pairs) => string.Join(", ", pairs.Select(p => $"{p.A} and {p.B}"));

    // They come last, so that the many need no names.
    private static string Open(List<Said> open, int pairs) =>
        open.Count == pairs && pairs > 1 ? "every pair" : open.Count > MostNamed ? $"the other {open.Count} pairs" : Names(open);

    private static string Listed(List<string> names) => names.Count == 1 ? names[0] : $"{string.Join(", ", names[..^1])} and {names[^1]}";

    /// <summary>A p as it is printed, never broken over two lines; its digits below a thousandth mean nothing.</summary>
    internal static string Chance(double? p) => (p < 0.001 ? "p < 0.001" : string.Create(CultureInfo.InvariantCulture, $"p {p:G2}")).Replace(' ', NumberWords.ThinSpace);

    private sealed record Said(string A, string B, double? P, PairVerdict Verdict, int? Needed, int Order);
}
