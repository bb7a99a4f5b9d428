namespace Vanehour.Models.VaneWear;

/// <summary>One possible course of a life's wear.</summary>
/// <param name="atFitting">Wear at fitting.</param>
/// <param name="knotsH">Hours at which the rate changes, h.</param>
/// <param name="starts">Steady wear gained up to the start of each stretch.</param>
/// <param name="rates">Steady rate in each stretch, per h.</param>
/// <param name="late">How wear goes on late.</param>
internal readonly struct WearCourse(double atFitting, double[] knotsH, double[] starts, double[] rates, LateCurve late)
{
    /// <summary>ln of the rate in the last stretch.</summary>
    public double LogRateNow => Math.Log(rates[^1]);

    /// <summary>Wear after so many hours since fitting.</summary>
    public double At(double hoursH) => late.At(SteadyAt(hoursH)).Wear;

    /// <summary>Hours since fitting at which wear is <paramref name="wear"/>, at the last rate beyond the last knot, h; 0 where it was so from the start.</summary>
    public double ReachesAt(double wear)
    {
        var left = late.Inverse(wear) - atFitting;
        for (var k = 0; k < knotsH.Length; k++)
        {
            if (starts[k + 1] >= left)
            {
                return Math.Max(0, (k == 0 ? 0 : knotsH[k - 1]) + ((left - starts[k]) / rates[k]));
            }
        }

        return Math.Max(0, (knotsH.Length == 0 ? 0 : knotsH[^1]) + ((left - starts[^1]) / rates[^1]));
    }

    /// <summary>Steady wear after so many hours since fitting.</summary>
    public double SteadyAt(double hoursH)
    {
        var segment = 0;
        while (segment < knotsH.Length && hoursH > knotsH[segment])
        {
            segment++;
        }

        return atFitting + starts[segment] + (rates[segment] * (hoursH - (segment == 0 ? 0 : knotsH[segment - 1])));
    }
}
