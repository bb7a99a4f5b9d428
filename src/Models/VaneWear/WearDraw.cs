namespace Vanehour.Models.VaneWear;

/// <summary>One draw from what is believed of a pump's wear.</summary>
/// <param name="BaselinePerS">Net flow over gas volume as new, 1/s.</param>
/// <param name="AtFitting">Wear at fitting.</param>
/// <param name="RatePer1000H">Wear per 1 000 h, not negative.</param>
public readonly record struct WearDraw(double BaselinePerS, double AtFitting, double RatePer1000H)
{
    /// <summary>Wear after so many hours since fitting.</summary>
    public double At(double hoursH) => AtFitting + (RatePer1000H * hoursH / 1000);
}
