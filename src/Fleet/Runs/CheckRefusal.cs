namespace Vanehour.Fleet.Runs;

/// <summary>Why a pump-down does not count as a start-up check.</summary>
public enum CheckRefusal
{
    /// <summary>Less than four hours of rest before it.</summary>
    NoRestBefore,

    /// <summary>The rise is not smooth.</summary>
    NotSmooth,

    /// <summary>It stopped short: neither near the relief setting nor near the pump's own ultimate.</summary>
    CutShort,

    /// <summary>Too few samples to fit.</summary>
    TooFewSamples,

    /// <summary>Much faster than the truck's recent ones: the tank was probably partly full.</summary>
    TooFast,

    /// <summary>The pump went on working in the same run: a job's pump-down, of which nobody knows how empty the tank was.</summary>
    WorkFollows,
}
