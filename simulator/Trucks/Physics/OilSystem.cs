namespace Vanehour.Simulator.Physics;

/// <summary>The total-loss oil path: reservoir, feed by speed, film on the vanes, separator. Sizes are invented.</summary>
internal sealed class OilSystem
{
    /// <summary>Oil the reservoir holds when full, L.</summary>
    public const double ReservoirL = 14;

    private const double FilmTimeConstantS = 600;

    // A pump is built to live with a fifth less than rated.
    private const double EnoughFilm = 0.8;
    private const double MistShare = 0.1;

    /// <summary>Oil fed to the pump or lost through a leak since the simulation began, L.</summary>
    public double FedL { get; private set; }

    public double FilledL { get; private set; }

    public double LevelL { get; private set; } = ReservoirL;

    /// <summary>Oil in the separator since it was last drained, L.</summary>
    public double SeparatorL { get; private set; }

    /// <summary>Oil drained from the separator, blown out as mist or leaked, L.</summary>
    public double GoneL { get; private set; }

    /// <summary>Oil film on the vanes over what the rated feed keeps up.</summary>
    public double Film { get; private set; } = 1;

    /// <summary>Want of film, 0 in health to 1.</summary>
    public double Shortage => Math.Clamp((EnoughFilm - Film) / EnoughFilm, 0, 1);

    /// <summary>Fills the reservoir; gives the litres filled.</summary>
    public double Fill()
    {
        var litres = ReservoirL - LevelL;
        LevelL = ReservoirL;
        FilledL += litres;
        return litres;
    }

    /// <summary>Empties the separator.</summary>
    public void DrainSeparator()
    {
        GoneL += SeparatorL;
        SeparatorL = 0;
    }

    /// <summary>Lets the pump run for a while.</summary>
    /// <param name="seconds">How long.</param>
    /// <param name="feedLPerH">What the oil pump would feed, L/h.</param>
    /// <param name="leakLPerH">What leaks, L/h.</param>
    /// <param name="neededLPerH">The feed that keeps the film whole at this speed, L/h; above 0.</param>
    /// <param name="quality">How well a litre lubricates, 1 in health.</param>
    public void Run(double seconds, double feedLPerH, double leakLPerH, double neededLPerH, double quality)
    {
        var wanted = (feedLPerH + leakLPerH) * seconds / 3600;
        var given = Math.Min(wanted, LevelL);
        var share = wanted > 0 ? given / wanted : 0;
        var fed = feedLPerH * share * seconds / 3600;
        LevelL -= given;
        FedL += given;
        SeparatorL += fed * (1 - MistShare);
        GoneL += given - (fed * (1 - MistShare));
        var kept = Math.Min(1.1, quality * feedLPerH * share / neededLPerH);
        Film += (kept - Film) * Math.Min(1, seconds / FilmTimeConstantS);
    }

    public OilSystem Clone() => (OilSystem)MemberwiseClone();
}
