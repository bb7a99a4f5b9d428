namespace Vanehour.Models.VaneWear;

/// <summary>
/// How wear goes on late in a life: dx/du = 1 up to a wear, 1 + k (x - that wear) beyond it, u being wear at the pump's own steady rate.
/// </summary>
/// <param name="SpeedUp">k; 0 for wear that goes on as before.</param>
internal readonly record struct LateCurve(double SpeedUp)
{
    /// <summary>Wear from which it may speed up; of our own.</summary>
    public const double From = 0.75;

    // Far past any limit; keeps a wild trial of the fit finite.
    private const double Most = 2.5;

    /// <summary>Wear and its slope at <paramref name="steady"/>.</summary>
    public (double Wear, double Slope) At(double steady)
    {
        if (SpeedUp == 0 || steady <= From)
        {
            return (steady, 1);
        }

        var over = Math.Min(steady - From, Most);
        var slope = Math.Exp(SpeedUp * over);
        return (From + ((slope - 1) / SpeedUp) + (slope * (steady - From - over)), slope);
    }

    /// <summary>The steady wear at which wear is <paramref name="wear"/>.</summary>
    public double Inverse(double wear) => SpeedUp == 0 || wear <= From ? wear : From + (Math.Log(1 + (SpeedUp * (wear - From))) / SpeedUp);
}
