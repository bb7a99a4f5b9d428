namespace Vanehour.Models.Watching;

/// <summary>How limits that cannot wait for an analysis are watched. The defaults are chosen by us, not published.</summary>
public sealed record WatchOptions
{
    /// <summary>Whether they are watched at all.</summary>
    public bool Enabled { get; init; } = true;

    /// <summary>Seconds between two looks at what was newly stored.</summary>
    public double EveryS { get; init; } = 5;

    /// <summary>Samples older than so many minutes are left to the analysis: nobody can stop what is over.</summary>
    public double LookBackMinutes { get; init; } = 10;

    /// <summary>How long the continuous vacuum limit may be passed without a break, s: a tank that is pulled down meets it for a moment.</summary>
    public double VacuumHoldS { get; init; } = 300;

    /// <summary>How long the pressure limit may be passed, s.</summary>
    public double PressureHoldS { get; init; } = 60;

    /// <summary>How long the temperature limit may be passed, s.</summary>
    public double TemperatureHoldS { get; init; } = 120;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (EveryS is not (>= 1 and <= 3600) || LookBackMinutes is not (>= 1 and <= 1440))
        {
            yield return "The watch looks every 1 to 3600 s, and back by 1 to 1440 minutes.";
        }

        // What began before a restart is seen by what is read again, which must reach back as far.
        double[] holds = [VacuumHoldS, PressureHoldS, TemperatureHoldS];
        if (!holds.All(h => h > 0 && h <= LookBackMinutes * 60))
        {
            yield return "The times that a limit may be passed must be above 0 s and within the minutes looked back.";
        }
    }
}
