namespace Vanehour.Models.VaneWear;

/// <summary>One possible course of a life's wear.</summary>
/// <param name="atFitting">Wear at fitting.</param>
/// <param name="knotsH">Hours worn at which the rate changes, h.</param>
/// <param name="starts">Steady wear gained up to the start of each stretch.</param>
/// <param name="rates">Steady rate in each stretch, per hour worn.</param>
/// <param name="early">How wear begins.</param>
/// <param name="late">How wear goes on late.</param>
internal readonly struct WearCourse(double atFitting, double[] knotsH, double[] starts, double[] rates, EarlyCurve early, LateCurve late)
{
    /// <summary>ln of the rate in the last stretch, per hour worn.</summary>
    public double LogRateNow => Math.Log(rates[^1]);

    /// <summary>Wear after so many hours since fitting.</summary>
    public double At(double hoursH) => late.At(SteadyAt(hoursH)).Wear;

    /// <summary>Hours since fitting at which wear is <paramref name="wear"/>, at the last rate beyond the last knot, h; 0 where it was so from the start.</summary>
    public double ReachesAt(double wear)
    {
        var left = late.Inverse(wear) - atFitting;
        var segment = 0;
        while (segment < knotsH.Length && starts[segment + 1] < left)
        {
            segment++;
        }

        return early.HoursFor(0, Math.Max(0, (segment == 0 ? 0 : knotsH[segment - 1]) + ((left - starts[segment]) / rates[segment])));
    }

    /// <summary>Steady wear after so many hours since fitting.</summary>
    public double SteadyAt(double hoursH)
    {
        var wornH = early.WornH(hoursH);
        var segment = 0;
        while (segment < knotsH.Length && wornH > knotsH[segment])
        {
            segment++;
        }

        return atFitting + starts[segment] + (rates[segment] * (wornH - (segment == 0 ? 0 : knotsH[segment - 1])));
    }
}
