namespace Vanehour.Models.PumpLives;

/// <summary>What a comparison of two pump models says.</summary>
public enum PairVerdict
{
    /// <summary>They differ.</summary>
    Differs,

    /// <summary>A difference of the size looked for would likely have shown; none did.</summary>
    NoEvidence,

    /// <summary>So few have failed that such a difference could well have stayed hidden.</summary>
    TooFewLives,

    /// <summary>So few pumps were measured that such a difference could well have stayed hidden.</summary>
    TooFewPumps,
}
