namespace Vanehour.Models.Runs;

/// <summary>
/// The rules by which samples become runs. Where no source is named a value is invented: chosen by the reason beside it.
/// Everything that a run's content depends on lies within <see cref="LookBackMs"/> before its start and <see cref="LongestSilenceMs"/> after its end,
/// which is what makes deriving from a settled instant give the same runs as deriving from the beginning.
/// </summary>
internal static class RunRules
{
    private const long MinuteMs = 60_000;

    /// <summary>Raise it with every change that gives other runs of the same samples: stored runs are then derived again by themselves.</summary>
    public const int Version = 2;

    /// <summary>A silence inside a run up to this is bridged; a longer one ends it.</summary>
    public const long LongestSilenceMs = 10 * MinuteMs;

    /// <summary>PTO off or silence for this long after a run settles it.</summary>
    public const long SettleMs = 30 * MinuteMs;

    /// <summary>A pause between samples longer than this is a silence: the slowest usual reporting is once a minute.</summary>
    public const long SilenceMs = 2 * MinuteMs;

    /// <summary>A run is cut here, so that a stuck power take-off signal can't fill the memory.</summary>
    public const long LongestRunMs = 24 * 60 * MinuteMs;

    /// <summary>How long an explicit power take-off signal or a meter's advance counts after it was heard.</summary>
    public const long EngagementHoldMs = LongestSilenceMs;

    /// <summary>How long vacuum, pressure and speed hold.</summary>
    public const long FastHoldMs = SilenceMs;

    /// <summary>How long temperatures hold.</summary>
    public const long TemperatureHoldMs = 10 * MinuteMs;

    /// <summary>How long barometer, meter and oil counter hold: they change slowly, or only while the pump turns.</summary>
    public const long SlowHoldMs = 120 * MinuteMs;

    /// <summary>How far before a run samples can matter: the longest hold.</summary>
    public const long LookBackMs = SlowHoldMs;

    /// <summary>Without a power take-off signal the pump counts as driven above this share of rated speed.</summary>
    public const double EngagedSpeedShare = 1.0 / 3;

    /// <summary>The pump is under load above this vacuum or pressure, kPa: about 3 inHg, well above a line's own resistance.</summary>
    public const double LoadKPa = 10;

    /// <summary>The pump is taken to have warmed up this long after the start.</summary>
    public const long WarmUpMs = 10 * MinuteMs;

    /// <summary>The part after warm-up must be at least this long; a shorter run says nothing of the temperature rise, least of all after a cold night.</summary>
    public const long ShortestWarmMs = 3 * MinuteMs;

    /// <summary>Rest before a start-up check.</summary>
    public const long RestMs = 4 * 60 * MinuteMs;

    /// <summary>The coarsest meter, h.</summary>
    public const double CoarseMeterH = 0.1;

    /// <summary>A fine meter, h.</summary>
    public const double FineMeterH = 0.01;

    /// <summary>Readings are taken between samples, so a meter may be this far off the engaged time besides its own step, h.</summary>
    public const double MeterSlackH = 1.0 / 60;

    /// <summary>A meter's clock may be this share off.</summary>
    public const double MeterSlackShare = 0.02;

    /// <summary>A meter whose step is more than this share of a run can't divide anything: the engaged time counts.</summary>
    public const double CoarsestMeterShare = 0.1;
}
