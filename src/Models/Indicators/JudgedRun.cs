namespace Vanehour.Models.Indicators;

/// <summary>A run's indicator beside its expectation, with the noise taken apart; in the indicator's unit.</summary>
/// <param name="Start">The start of the run.</param>
/// <param name="End">The end of the run.</param>
/// <param name="Seen">What was measured.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="NoiseSd">Standard deviation from run to run, for a run of this weight.</param>
/// <param name="OffsetSd">Standard error of the expectation, which neighbouring runs share.</param>
public sealed record JudgedRun(DateTimeOffset Start, DateTimeOffset End, double Seen, double Expected, double NoiseSd, double OffsetSd)
{
    /// <summary>Seen less expected.</summary>
    public double Deviation => Seen - Expected;

    /// <summary>Standard deviation of a single run about its expectation, noise and the expectation's own error together.</summary>
    public double TotalSd => Math.Sqrt((NoiseSd * NoiseSd) + (OffsetSd * OffsetSd));
}
