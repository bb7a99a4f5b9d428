using MathNet.Numerics.Distributions;

namespace Vanehour.Models.VaneWear;

/// <summary>Draws from what is believed of one life's wear.</summary>
internal sealed class WearDraws
{
    private readonly WearCourse[] courses;

    private WearDraws(LifeFit fit, WearCourse[] courses)
    {
        this.courses = courses;
        NowWear = [.. courses.Select(c => c.At(fit.Life.NowH))];
        LogRateNow = [.. courses.Select(c => c.LogRateNow + fit.StrainOfLate)];
    }

    /// <summary>Wear now.</summary>
    public double[] NowWear { get; }

    /// <summary>ln of the steady rate as it goes on from now, with what strained the pump of late, per hour worn.</summary>
    public double[] LogRateNow { get; }

    public int Count => courses.Length;

    /// <summary>Draws from the normal about the likeliest values.</summary>
    public static WearDraws Of(LifeFit fit, int count, Random random)
    {
        var factor = fit.Covariance.Cholesky().Factor.ToRowArrays();
        var courses = new WearCourse[count];
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

            courses[d] = fit.CourseOf(theta);
        }

        return new WearDraws(fit, courses);
    }

    /// <summary>Hours since fitting at which wear is <paramref name="wear"/>, h.</summary>
    public double[] ReachesAt(double wear) => [.. courses.Select(c => c.ReachesAt(wear))];

    /// <summary>Wear at hours since fitting, of the first <paramref name="count"/> draws.</summary>
    public double[] WearAt(double hoursH, int count) => [.. courses.Take(count).Select(c => c.At(hoursH))];
}
