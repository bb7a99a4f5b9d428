namespace Vanehour.Models.Findings;

/// <summary>From where on findings are raised. The defaults are chosen, not published.</summary>
public sealed record FindingOptions
{
    /// <summary>Vanes are near their limit when it is more likely than not reached within so many days: a parts order and a place in the shop.</summary>
    public double VanesLeadDays { get; init; } = 56;

    /// <summary>Wear from which the vacuum is said to fade.</summary>
    public double FadingWear { get; init; } = 0.75;

    /// <summary>A wear rate so many times the median of the other trucks' with the same pump model is out of line: doubled, as harm is counted.</summary>
    public double FadingRateRatio { get; init; } = 2;

    /// <summary>Flow kept, as a share of new, that recent checks must lie below their own line to matter.</summary>
    public double FadingDrop { get; init; } = 0.03;

    /// <summary>The relief setting has moved from this difference to the setting wanted, kPa; 1 inHg, what a gauge shows plainly.</summary>
    public double ReliefKPa { get; init; } = 3.386;

    /// <summary>Minutes above the continuous vacuum limit within seven days.</summary>
    public double HeldMinutesInWeek { get; init; } = 30;

    /// <summary>Share of the time under load outside the speed range, in the moving average over runs.</summary>
    public double SpeedOutsideShare { get; init; } = 0.25;

    /// <summary>Runs of the last ten in which a pressure or temperature limit was passed.</summary>
    public int LimitRunsOfTen { get; init; } = 2;

    /// <summary>A limit counts as passed from this factor on it: gauges differ by some per cent.</summary>
    public double PressureTolerance { get; init; } = 1.05;

    /// <summary>Records refused in seven days for an impossible instant, from which the gateway's clock is called wrong.</summary>
    public int ClockRejects { get; init; } = 20;

    /// <summary>Runs of the last ten in which a sensor gave one exact value.</summary>
    public int StuckRunsOfTen { get; init; } = 3;

    /// <summary>Runs of the last ten in which the meter disagreed with the time engaged.</summary>
    public int MeterRunsOfTen { get; init; } = 4;

    /// <summary>For how many days a single jump of the meter is reported.</summary>
    public int MeterJumpDays { get; init; } = 28;

    /// <summary>Forwarding to the server that keeps the samples is behind once the oldest sample has waited so many minutes.</summary>
    public double ForwardingBehindMinutes { get; init; } = 15;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(VanesLeadDays > 0) || !(FadingWear > 0) || !(FadingRateRatio > 1) || !(FadingDrop > 0))
        {
            yield return "Lead days, fading wear and fading drop must be above 0, and the rate ratio above 1.";
        }

        if (!(ReliefKPa > 0) || !(HeldMinutesInWeek > 0) || !(SpeedOutsideShare is > 0 and <= 1) || LimitRunsOfTen is < 1 or > 10 || !(PressureTolerance >= 1))
        {
            yield return "Relief difference and held minutes must be above 0, the speed share above 0 and at most 1, runs 1 to 10, the tolerance at least 1.";
        }

        if (ClockRejects < 1 || StuckRunsOfTen is < 1 or > 10 || MeterRunsOfTen is < 1 or > 10 || MeterJumpDays < 1)
        {
            yield return "Clock rejects and days must be at least 1, and runs of ten from 1 to 10.";
        }

        if (!(ForwardingBehindMinutes > 0))
        {
            yield return "The minutes from which forwarding is behind must be above 0.";
        }
    }
}
