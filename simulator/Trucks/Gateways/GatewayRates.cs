namespace Vanehour.Simulator.Gateways;

/// <summary>How often a gateway goes wrong at dirt 1, and for how long. All of it is invented, of the size that complaints about cellular gateways suggest.</summary>
internal static class GatewayRates
{
    /// <summary>Spikes a sample.</summary>
    public const double Spike = 0.0002;

    /// <summary>Drop-outs of one signal a sample.</summary>
    public const double DropOut = 0.0004;

    /// <summary>Stuck stretches a truck-day.</summary>
    public const double Stuck = 0.01;

    /// <summary>Reboots a truck-day.</summary>
    public const double Reboot = 0.02;

    /// <summary>Gaps of coverage a truck-day.</summary>
    public const double NoCoverage = 0.012;

    /// <summary>Duplicates a message.</summary>
    public const double Duplicate = 0.004;

    /// <summary>Clocks that go wrong a truck-day.</summary>
    public const double ClockWrong = 0.004;

    /// <summary>Swaps of the gateway a truck-week.</summary>
    public const double UnitChanged = 0.012;

    /// <summary>Meters replaced a truck-week.</summary>
    public const double MeterReplaced = 0.008;

    /// <summary>The shortest and the longest stuck stretch, s.</summary>
    public const int StuckLeastS = 180;

    /// <inheritdoc cref="StuckLeastS"/>
    public const int StuckMostS = 4 * 3600;

    /// <summary>What a reboot loses, s, the least and the most.</summary>
    public const int RebootLeastS = 30;

    /// <inheritdoc cref="RebootLeastS"/>
    public const int RebootMostS = 300;

    /// <summary>How long coverage is away, s, the least and the most; less than a day, so that no more than a day's messages wait.</summary>
    public const int GapLeastS = 3600;

    /// <inheritdoc cref="GapLeastS"/>
    public const int GapMostS = 10 * 3600;

    /// <summary>Messages of a burst follow one another at this distance, ms.</summary>
    public const int BurstStepMs = 200;

    /// <summary>A duplicate follows within this time, s.</summary>
    public const int DuplicateMostS = 120;

    /// <summary>How wrong a clock is, s, the least and the most; below the ten minutes ahead from which on the worker refuses an instant.</summary>
    public const int ClockLeastS = 120;

    /// <inheritdoc cref="ClockLeastS"/>
    public const int ClockMostS = 540;

    /// <summary>After how many days at most a wrong clock is corrected.</summary>
    public const int ClockMostDays = 7;

    /// <summary>The meter goes back to 0 here, h: four digits and a tenth.</summary>
    public const double MeterTurnsAtH = 10_000;
}
