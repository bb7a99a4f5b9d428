namespace Vanehour.Models.VaneWear;

/// <summary>
/// How wear begins: while vanes bed in, an hour wears like more than one. Hours worn after h hours are h + extra (1 - exp(-h/fading)); the pump's own rate is by hours worn.
/// </summary>
/// <param name="ExtraH">Hours that bedding in adds over all, h; 0 for wear that begins as it goes on.</param>
/// <param name="FadesH">Time over which it fades, h.</param>
internal readonly record struct EarlyCurve(double ExtraH, double FadesH)
{
    private const int MostRounds = 30;

    /// <summary>Hours worn after hours since fitting.</summary>
    public double WornH(double hoursH) => ExtraH == 0 || hoursH <= 0 ? hoursH : hoursH + (ExtraH * (1 - Math.Exp(-hoursH / FadesH)));

    /// <summary>Hours worn per hour.</summary>
    public double Slope(double hoursH) => ExtraH == 0 || hoursH < 0 ? 1 : 1 + (ExtraH / FadesH * Math.Exp(-hoursH / FadesH));

    /// <summary>How many hours it takes from hours since fitting until so many hours more are worn.</summary>
    /// <param name="fromH">Hours since fitting, h.</param>
    /// <param name="wornH">Hours to be worn, h.</param>
    public double HoursFor(double fromH, double wornH)
    {
        // Bedded in, to a hundredth of an hour.
        if (!double.IsFinite(wornH) || ExtraH == 0 || ExtraH * Math.Exp(-Math.Max(0, fromH) / FadesH) < 0.01)
        {
            return wornH;
        }

        // By Newton; the curve is concave, so from below every step stays below.
        var target = WornH(fromH) + wornH;
        var atH = Math.Max(fromH, target - ExtraH);
        for (var round = 0; round < MostRounds; round++)
        {
            var step = (target - WornH(atH)) / Slope(atH);
            atH += step;
            if (Math.Abs(step) < 1e-6)
            {
                break;
            }
        }

        return atH - fromH;
    }
}
