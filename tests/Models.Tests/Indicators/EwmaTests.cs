using Vanehour.Models.Indicators;

namespace Vanehour.Models.Tests.Indicators;

public sealed class EwmaTests
{
    /// <summary>NIST/SEMATECH e-Handbook 6.3.2.4: lambda 0.3, target 50, s 2.0539, k 3. The printed averages and limits are copied here.</summary>
    [Fact]
    public void Add_MatchesNistHandbook6_3_2_4()
    {
        double[] data = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
        double[] printed =
        [
            50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
        ];
        var ewma = new Ewma(0.3, 50);
        for (var i = 0; i < data.Length; i++)
        {
            ewma.Add(data[i]);
            Assert.Equal(printed[i], ewma.Value, 0.0051);
        }

        // The handbook's limits are those for many values.
        Assert.Equal(52.5884, 50 + (3 * 2.0539 * Math.Sqrt(ewma.VarianceRatio)), 0.0002);
    }

    [Fact]
    public void CorrelationFactor_MatchesASimulatedAutoregression()
    {
        const double lambda = 0.1, rho = 0.5;
        var random = new Random(3);
        var ewma = new Ewma(lambda);
        double x = 0, squares = 0;
        const int n = 400_000;
        for (var i = 0; i < n; i++)
        {
            x = (rho * x) + (Math.Sqrt(1 - (rho * rho)) * MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1));
            ewma.Add(x);
            squares += ewma.Value * ewma.Value;
        }

        Assert.Equal(ewma.VarianceRatio * ewma.CorrelationFactor(rho), squares / n, 0.006);
    }
}
