namespace Vanehour.Models.VaneWear;

/// <summary>What speed, heat and poor lubrication do to the wear of all pumps of a fleet, each only where the lives of the fleet show it.</summary>
/// <remarks>
/// By Newton's steps on the summed log evidence, with the models' levels of ln rate going along: what all pumps of a model have in common says nothing. Likelihood ratio: twice the
/// gain in log evidence is about chi-square of one degree of freedom where an effect is none.
/// </remarks>
/// <param name="modelVariance">Variance of ln rate between models.</param>
internal sealed class StrainEffects(double modelVariance)
{
    // The 99 % quantile of chi-square of one degree of freedom.
    private const double GainMatters = 6.63;

    // An effect that cannot be told to within so much is not learned; and the most that each may be: wear is slowed down by none. Of our own.
    private const double WorstError = 1;
    private static readonly Strain Most = new(4, 2.5, 2.5);

    private readonly List<int> kept = [];
    private double[] effects = new double[Strain.Count];
    private double[] errors = new double[Strain.Count];

    /// <summary>Change of ln rate per unit of each; 0 for those that do not stand out.</summary>
    public Strain Effects => Strain.Of(effects);

    /// <summary>Their standard errors; 0 for those that do not stand out.</summary>
    public Strain Errors => Strain.Of(errors);

    /// <summary>One step: moves the effects that are kept, takes the next one in if it stands out, and drops what no longer does.</summary>
    /// <param name="lives">Model of each life's pump; slope and curvature of its log evidence.</param>
    /// <param name="isLast">Whether none is taken in any more.</param>
    public void Learn(IReadOnlyList<(string Model, (double[] Slope, double[,] Curvature) Evidence)> lives, bool isLast)
    {
        var (slope, curvature) = WithoutLevels(lives);
        while (true)
        {
            var (to, errorsTo) = Solve(kept, slope, curvature);
            var worst = kept.Count == 0 ? -1 : kept.MinBy(j => Square(to[j] / errorsTo[j]));
            if (worst >= 0 && (to[worst] <= 0 || errorsTo[worst] > WorstError || Square(to[worst] / errorsTo[worst]) < GainMatters))
            {
                kept.Remove(worst);
                continue;
            }

            var next = isLast ? [] : Enumerable.Range(0, Strain.Count).Except(kept)
                .Select(j => (Index: j, Found: Solve([.. kept, j], slope, curvature)))
                .Where(c => c.Found.Errors[c.Index] is > 0 and < WorstError && c.Found.Effects[c.Index] > 0 && Square(c.Found.Effects[c.Index] / c.Found.Errors[c.Index]) > GainMatters)
                .OrderByDescending(c => c.Found.Effects[c.Index] / c.Found.Errors[c.Index])
                .Take(1)
                .ToList();
            if (next.Count == 1)
            {
                kept.Add(next[0].Index);
                (to, errorsTo) = next[0].Found;
            }

            effects = [.. to.Select((e, j) => Math.Clamp(e, 0, Most[j]))];
            errors = errorsTo;
            return;
        }
    }

    // Sums over the lives of each model with its level profiled out.
    private (double[] Slope, double[,] Curvature) WithoutLevels(IEnumerable<(string Model, (double[] Slope, double[,] Curvature) Evidence)> lives)
    {
        var slope = new double[Strain.Count];
        var curvature = new double[Strain.Count, Strain.Count];
        foreach (var model in lives.GroupBy(l => l.Model, StringComparer.Ordinal))
        {
            var ofModel = model.Select(l => l.Evidence).ToList();
            var level = ofModel.Sum(e => e.Curvature[Strain.Count, Strain.Count]) + (1 / modelVariance);
            var levelSlope = ofModel.Sum(e => e.Slope[Strain.Count]);
            for (var a = 0; a < Strain.Count; a++)
            {
                var across = ofModel.Sum(e => e.Curvature[a, Strain.Count]);
                slope[a] += ofModel.Sum(e => e.Slope[a]) - (across * levelSlope / level);
                for (var b = 0; b < Strain.Count; b++)
                {
                    curvature[a, b] += ofModel.Sum(e => e.Curvature[a, b]) - (across * ofModel.Sum(e => e.Curvature[b, Strain.Count]) / level);
                }
            }
        }

        return (slope, curvature);
    }

    // The effects that the evidence is highest for if only some may differ from 0.
    private (double[] Effects, double[] Errors) Solve(List<int> of, double[] slope, double[,] curvature)
    {
        var to = new double[Strain.Count];
        var error = new double[Strain.Count];
        if (of.Count == 0)
        {
            return (to, error);
        }

        var information = new double[of.Count, of.Count];
        var right = new double[of.Count];
        for (var i = 0; i < of.Count; i++)
        {
            // The slope at 0 of those, by the quadratic.
            right[i] = slope[of[i]] + Enumerable.Range(0, Strain.Count).Sum(j => curvature[of[i], j] * effects[j]);
            for (var k = 0; k < of.Count; k++)
            {
                information[i, k] = curvature[of[i], of[k]];
            }

            // What does not vary says nothing.
            if (!(information[i, i] > 1 / Square(WorstError)))
            {
                return (to, [.. to.Select(_ => double.PositiveInfinity)]);
            }
        }

        var found = SmallSystem.Solve(information, right);
        var covariance = SmallSystem.Inverse(information, out _);
        for (var i = 0; i < of.Count; i++)
        {
            (to[of[i]], error[of[i]]) = (found[i], Math.Sqrt(covariance[i, i]));
        }

        return (to, error);
    }

    private static double Square(double x) => x * x;
}
