namespace Vanehour.Models.Indicators;

/// <summary>How far deviations have shifted after a run.</summary>
/// <param name="Run">The run.</param>
/// <param name="Average">Moving average of standardised deviations.</param>
/// <param name="Limit">Where it counts, above 0.</param>
/// <param name="Sudden">Median of the last three standardised deviations over the cap of one run: two wild runs of three bring it to 1.</param>
/// <param name="Shift">The deviation that lasts, in the indicator's unit.</param>
/// <param name="MattersFrom">Where it matters to a person, in the indicator's unit, above 0.</param>
public sealed record ShiftState(JudgedRun Run, double Average, double Limit, double Sudden, double Shift, double MattersFrom)
{
    /// <summary>Cumulative sum of what lies above, over its limit, 0 or more.</summary>
    public double CusumHigh { get; init; }

    /// <summary>Cumulative sum of what lies below, over its limit, 0 or more.</summary>
    public double CusumLow { get; init; }

    /// <summary>Signed: at 1 and above the indicator is high, at -1 and below it is low, both by the statistics and by what matters.</summary>
    public double Strength
    {
        get
        {
            var sign = Math.Sign(Shift);
            var sure = Math.Max(Math.Max(sign * Average / Limit, sign * Sudden), sign >= 0 ? CusumHigh : CusumLow);
            return sign * Math.Max(0, Math.Min(sure, Math.Abs(Shift) / MattersFrom));
        }
    }

    /// <summary>Whether this run by itself deviates by half of what matters, +1 high, -1 low, else 0.</summary>
    public int RunShows => Math.Abs(Run.Deviation) >= MattersFrom / 2 ? Math.Sign(Run.Deviation) : 0;
}
