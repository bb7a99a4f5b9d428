using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Expectations;

/// <summary>How a pump's runs scatter about its own level, outliers left out: as the fits that judge have it, so that a band set by one suits the other.</summary>
/// <param name="Squares">Weighted squares about the mean of the runs kept, in the square of the indicator's unit.</param>
/// <param name="Kept">Positions of the runs kept.</param>
internal readonly record struct PumpNoise(double Squares, IReadOnlyList<int> Kept)
{
    /// <summary>Reads the noise of one pump.</summary>
    /// <param name="left">What conditions leave unexplained in each run, and its weight; at least one run.</param>
    public static PumpNoise Of(IReadOnlyList<(double Left, double Weight)> left)
    {
        var median = Robust.WeightedMedian(left);
        var spread = Robust.SpreadAboutZero(left.Select(r => Math.Sqrt(r.Weight) * (r.Left - median)));
        List<int> kept = [.. Enumerable.Range(0, left.Count).Where(i => Math.Sqrt(left[i].Weight) * Math.Abs(left[i].Left - median) <= WithinPumpFit.OutlierSd * spread)];
        var mean = kept.Sum(i => left[i].Weight * left[i].Left) / kept.Sum(i => left[i].Weight);
        return new PumpNoise(kept.Sum(i => left[i].Weight * (left[i].Left - mean) * (left[i].Left - mean)), kept);
    }

    /// <summary>Variance of a run of weight 1, pulled towards that of all pumps as in <see cref="WithinPumpFit"/>.</summary>
    /// <param name="ofAll">Variance of a run of weight 1 over all pumps.</param>
    public double Variance(double ofAll) => (Squares + (WithinPumpFit.SharedNoiseRuns * ofAll)) / (Kept.Count - 1 + WithinPumpFit.SharedNoiseRuns);
}
