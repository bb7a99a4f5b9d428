namespace Vanehour.Models.RemainingLife;

/// <summary>
/// Intervals by what held-out predictions missed by: split-conformal, the split being by unit, apart for low and for high predictions, since little is left in doubt of a unit near its end.
/// </summary>
/// <remarks>
/// Each tail is held to half of what may lie outside. The rows of a unit share one vote, and the quantile is raised by 1 + 1/n for n units: what the promise needs where rows hang together
/// by unit. [Dunn] R. Dunn, L. Wasserman and A. Ramdas, Distribution-free prediction sets for two-layer hierarchical models, Journal of the American Statistical Association 118 (2023),
/// from memory. Of a unit that has not ended an error is only known to be no less than what it has lived since, and is counted by Kaplan and Meier's product. The errors come from models learned on fewer units than the one they are put round, so that the interval is rather too wide.
/// </remarks>
public sealed class HeldOutErrors
{
    // A band of predictions is made of the votes of so many units, and there are no more bands than this; of our own.
    private const int UnitsInBand = 20;
    private const int MostBands = 5;

    private readonly List<Errors> bands = [];

    /// <summary>Reads the errors.</summary>
    /// <param name="held">What held-out predictions missed by.</param>
    /// <param name="level">The chance to be inside, between 0 and 1.</param>
    public HeldOutErrors(IReadOnlyList<HeldOutError> held, double level)
    {
        ArgumentNullException.ThrowIfNull(held);
        var votes = held.GroupBy(h => h.Unit, StringComparer.Ordinal).ToDictionary(g => g.Key, g => 1.0 / g.Count(), StringComparer.Ordinal);
        var rows = held.OrderBy(h => h.Predicted).ToList();
        var count = Math.Clamp(votes.Count / UnitsInBand, 1, MostBands);
        var start = 0;
        var sum = 0.0;
        for (var i = 0; i < rows.Count; i++)
        {
            sum += votes[rows[i].Unit];
            var isLast = i == rows.Count - 1;
            if (isLast || (sum >= votes.Count * (bands.Count + 1.0) / count && rows[i + 1].Predicted > rows[i].Predicted))
            {
                bands.Add(Read(rows[start..(i + 1)], votes, level) with { Upto = isLast ? double.PositiveInfinity : rows[i].Predicted });
                start = i + 1;
            }
        }
    }

    /// <summary>The errors between which predictions like this one missed, and their median; infinite where there are too few to tell.</summary>
    /// <param name="predicted">The prediction.</param>
    public (double Low, double Median, double High) Band(double predicted) => bands.FirstOrDefault(b => predicted <= b.Upto) is { } band
        ? (band.Low, band.Median, band.High)
        : (double.NegativeInfinity, double.NaN, double.PositiveInfinity);

    // The distribution of the errors by Kaplan and Meier's product: where all are known, each vote counts its share.
    private static Errors Read(List<HeldOutError> rows, Dictionary<string, double> votes, double level)
    {
        // What rounding adds to eighteen votes must not ask for nineteen.
        const double rounding = 1e-9;
        var units = rows.Select(r => r.Unit).Distinct(StringComparer.Ordinal).Count();
        var inTail = (1 + level) / 2 * (1 + (1.0 / units));
        var (low, median, high) = (double.NegativeInfinity, double.NaN, double.PositiveInfinity);
        var atRisk = rows.Sum(r => votes[r.Unit]);
        var above = 1.0;
        foreach (var (unit, _, error, isAtLeast) in rows.OrderBy(r => r.Error).ThenBy(r => r.IsAtLeast))
        {
            var vote = votes[unit];
            if (!isAtLeast)
            {
                low = above >= inTail - rounding ? error : low;
                above *= Math.Max(0, 1 - (vote / atRisk));
                median = double.IsNaN(median) && above <= 0.5 + rounding ? error : median;
                high = double.IsInfinity(high) && above <= 1 - inTail + rounding ? error : high;
            }

            atRisk -= vote;
        }

        return new Errors(0, low, median, high);
    }

    private sealed record Errors(double Upto, double Low, double Median, double High);
}
