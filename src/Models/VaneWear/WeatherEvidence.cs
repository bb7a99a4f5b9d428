namespace Vanehour.Models.VaneWear;

/// <summary>What the checks of one life say of the ambient temperature's effect on a channel, by how checks of the same bin differ.</summary>
/// <param name="Xy">Sum of warmth times reading, each about its bin and over the variance of a check, 1/K.</param>
/// <param name="Xx">Sum of the squares of warmth over the variance of a check, per K squared.</param>
/// <param name="HasBarometer">Whether the truck's own barometer was heard.</param>
internal readonly record struct WeatherEvidence(double Xy, double Xx, bool HasBarometer)
{
    // Below so many lives with a barometer all lives are taken; of our own.
    private const int FewestLives = 5;

    // Standard deviation of the effect beforehand, 1/K; of our own.
    private const double SdBefore = 0.0005;

    /// <summary>
    /// Change of a channel per kelvin, drawn towards 0 as far as it is not known. Without a barometer the weather's pressure is read as flow, and pressure and temperature go together:
    /// where enough trucks have one, only they are asked.
    /// </summary>
    /// <param name="lives">What each life says.</param>
    /// <returns>The change of the logarithm per K.</returns>
    public static double PerKelvin(IEnumerable<WeatherEvidence> lives)
    {
        var all = lives.Where(l => l.Xx > 0).ToList();
        var heard = all.Where(l => l.HasBarometer).ToList();
        var rows = heard.Count >= FewestLives ? heard : all;
        var xx = rows.Sum(r => r.Xx);
        if (rows.Count < FewestLives)
        {
            return 0;
        }

        // By how lives differ: what is common to a life's checks would make the sum of them look better known than it is.
        var slope = rows.Sum(r => r.Xy) / xx;
        var variance = rows.Sum(r => Square(r.Xy - (slope * r.Xx))) / (xx * xx) * rows.Count / (rows.Count - 1);
        return slope * Square(SdBefore) / (Square(SdBefore) + variance);
    }

    private static double Square(double x) => x * x;
}
