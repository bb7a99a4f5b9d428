using System.Globalization;
using Vanehour.Reports.Scores;
using Vanehour.Scoring;

namespace Vanehour.Host.Output;

/// <summary>The scores as a picture.</summary>
internal static class EvaluationPicture
{
    public static byte[] Draw(EvaluationResult result)
    {
        var byThresholds = result.Thresholds.Faults.ToDictionary(f => f.Fault, f => f.Found, StringComparer.Ordinal);
        return ScorePicture.Render(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Count.Of(result.Trucks, "truck")}, {result.TruckYears:0.0} truck-years, an analysis every {result.Every.TotalDays:0.##} days from {result.From.UtcDateTime:yyyy-MM-dd} to {result.To.UtcDateTime:yyyy-MM-dd}. Intervals: 95 %, from resampling trucks."),
            [
                .. result.Findings.Faults.Select(f => new ScoreRow(f.Fault, f.Judged, f.Found, byThresholds.GetValueOrDefault(f.Fault))),
                new ScoreRow("all", result.Findings.All.Judged, result.Findings.All.Found, result.Thresholds.All.Found),
            ],
            [.. EvaluationPage.Measures(result).Select(m => new ScoreMeasure(m.Name, m.Findings, m.Thresholds))]);
    }
}
