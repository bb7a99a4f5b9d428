using System.Globalization;

namespace Vanehour.Bench.Checks;

/// <summary>How well start-up checks were recognised.</summary>
internal sealed class CheckScore(IReadOnlyList<JudgedCheck> checks)
{
    public int Good { get; } = checks.Count(c => c.IsGood);

    public int Recognised { get; } = checks.Count(c => c.IsRecognised);

    public int Right { get; } = checks.Count(c => c.IsGood && c.IsRecognised);

    /// <summary>Share of the recognised ones that were good, 0..1; NaN without any.</summary>
    public double Precision => (double)Right / Recognised;

    /// <summary>Share of the good ones that were recognised, 0..1; NaN without any.</summary>
    public double Recall => (double)Right / Good;

    /// <summary>The score of some of them.</summary>
    public CheckScore Of(Func<JudgedCheck, bool> which) => new([.. checks.Where(which)]);

    public string Line(string name) =>
        string.Create(CultureInfo.InvariantCulture, $"| {name} | {Good} | {Recognised} | {Precision:F3} | {Recall:F3} | {Counts(Missed())} | {Counts(Wrong())} |");

    private IEnumerable<string> Missed() => checks.Where(c => c.IsGood && !c.IsRecognised).Select(c => c.WhyMissed);

    private IEnumerable<string> Wrong() => checks.Where(c => !c.IsGood && c.IsRecognised).Select(c => c.WhatItWas);

    private static string Counts(IEnumerable<string> what) => string.Join(
        ", ", what.GroupBy(w => w).OrderByDescending(g => g.Count()).Select(g => string.Create(CultureInfo.InvariantCulture, $"{g.Key} {g.Count()}")));
}
