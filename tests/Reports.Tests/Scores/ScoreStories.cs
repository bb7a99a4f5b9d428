using Vanehour.Reports.Scores;

namespace Vanehour.Reports.Tests.Scores;

/// <summary>An invented evaluation.</summary>
internal static class ScoreStories
{
    public static readonly ScoreRow[] Rows = [new("OilLineChoked", 9, 9, 6), new("DischargeCarboned", 4, 3, 0), new("HoseLiningDischarge", 0, 0, 0), new("all", 13, 12, 6)];

    public static readonly ScoreMeasure[] Measures =
    [
        new("serious faults found before harm", "0.87 (0.78 to 0.95)", "0.06 (0.00 to 0.13)"),
        new("false findings per truck-year", "0.20 (0.12 to 0.28)", "2.91 (2.65 to 3.19)"),
    ];
}
