using MathNet.Numerics.Distributions;
using Vanehour.Models.MixedEffects;

namespace Vanehour.Models.Tests.MixedEffects;

/// <summary>Rows drawn from a mixed model; all values invented.</summary>
internal static class MadeGroups
{
    public const double Constant = 4;
    public const double Slope = -1.5;
    public const double ConstantScale = 2;
    public const double SlopeScale = 0.6;
    public const double Correlation = -0.4;
    public const double Scatter = 0.5;

    /// <summary>Groups of unequal size, with the effects they were drawn with.</summary>
    public static (MixedProblem Problem, List<(double Constant, double Slope)> Truth) Draw(Random random, int groups, int rows, double between = 1, double offset = 0)
    {
        List<double[]> x = [];
        List<double> y = [];
        List<string> names = [];
        List<(double, double)> truth = [];
        for (var g = 0; g < groups; g++)
        {
            var (first, second) = (Normal.Sample(random, 0, 1), Normal.Sample(random, 0, 1));
            var constant = between * ConstantScale * first;
            var slope = between * SlopeScale * ((Correlation * first) + (Math.Sqrt(1 - (Correlation * Correlation)) * second));
            truth.Add((constant, slope));
            for (var i = 0; i < rows - (g % 3); i++)
            {
                var at = (random.NextDouble() * 4) - 2;
                x.Add([at + offset]);
                y.Add(Constant + constant + ((Slope + slope) * at) + Normal.Sample(random, 0, Scatter));
                names.Add($"P{g}");
            }
        }

        return (new MixedProblem { Columns = ["x"], Rows = x, Responses = y, Groups = names, RandomSlopes = [0] }, truth);
    }
}
