using MathNet.Numerics.Distributions;

namespace Vanehour.Models.VaneWear;

/// <summary>Draws from what is believed of one life's wear.</summary>
internal sealed class WearDraws
{
    private readonly LifeFit fit;

    private WearDraws(LifeFit fit, double[][] thetas)
    {
        this.fit = fit;
        Thetas = thetas;
        NowWear = [.. thetas.Select(t => fit.WearAt(t, fit.Life.NowH))];
        LogRateNow = [.. thetas.Select(fit.LogRateNow)];
    }

    public double[][] Thetas { get; }

    /// <summary>Wear now.</summary>
    public double[] NowWear { get; }

    /// <summary>ln of the steady rate now, per h.</summary>
    public double[] LogRateNow { get; }

    public int Count => Thetas.Length;

    /// <summary>Draws from the normal about the likeliest values.</summary>
    public static WearDraws Of(LifeFit fit, int count, Random random)
    {
        var factor = fit.Covariance.Cholesky().Factor.ToRowArrays();
        var thetas = new double[count][];
        var z = new double[fit.Theta.Length];
        for (var d = 0; d < count; d++)
        {
            for (var i = 0; i < z.Length; i++)
            {
                z[i] = Normal.Sample(random, 0, 1);
            }

            var theta = (double[])fit.Theta.Clone();
            for (var i = 0; i < z.Length; i++)
            {
                for (var k = 0; k <= i; k++)
                {
                    theta[i] += factor[i][k] * z[k];
                }
            }

            thetas[d] = theta;
        }

        return new WearDraws(fit, thetas);
    }

    /// <summary>Wear at hours since fitting, of the first <paramref name="count"/> draws.</summary>
    public double[] WearAt(double hoursH, int count) => [.. Thetas.Take(count).Select(t => fit.WearAt(t, hoursH))];
}
