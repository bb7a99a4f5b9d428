namespace Vanehour.Models.Findings;

/// <summary>What a cause does to a sign.</summary>
/// <param name="Sign">Which.</param>
/// <param name="State">Where the cause puts it.</param>
/// <param name="Factor">By how much the cause gains when the sign stands there, and loses when it stands elsewhere; twice over when it stands on the opposite side. Above 1.</param>
public sealed record ExpectedSign(Sign Sign, SignState State, double Factor)
{
    /// <summary>What a reading makes of the cause's weight: a factor, 1 where nothing is known.</summary>
    public double Weigh(SignState seen) => seen == SignState.Unknown ? 1
        : seen == State ? Factor
        : seen != SignState.Normal && State != SignState.Normal ? 1 / (Factor * Factor)
        : 1 / Factor;
}
