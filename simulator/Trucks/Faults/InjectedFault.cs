using Vanehour.Fleet;

namespace Vanehour.Simulator.Faults;

/// <summary>A fault that grows from its onset to its full severity in a straight line and stays.</summary>
/// <param name="Cause">Which; one of those that <see cref="AddTo"/> knows.</param>
/// <param name="Onset">When it begins.</param>
/// <param name="Growth">How long it takes to full severity; zero is a step.</param>
/// <param name="Severity">Full severity, above 0, at most 1.</param>
internal sealed record InjectedFault(Cause Cause, DateTimeOffset Onset, TimeSpan Growth, double Severity)
{
    private readonly long onsetS = Onset.ToUnixTimeSeconds();

    /// <summary>Whether it shortens life or can stop the truck.</summary>
    public bool Serious => Cause is Cause.OilLineChoked or Cause.CoolingPoor or Cause.DischargeCarboned;

    /// <summary>Severity at an instant, 0 before the onset.</summary>
    public double SeverityAt(long unixS)
    {
        if (unixS < onsetS)
        {
            return 0;
        }

        return Growth <= TimeSpan.Zero ? Severity : Severity * Math.Min(1, (unixS - onsetS) / Growth.TotalSeconds);
    }

    /// <summary>Adds what this fault does at an instant. Sizes at full severity are invented.</summary>
    /// <exception cref="NotSupportedException">The simulator has no physics for the cause.</exception>
    public FaultEffects AddTo(FaultEffects effects, long unixS)
    {
        var s = SeverityAt(unixS);
        return Cause switch
        {
            Cause.OilFeedHigh => effects with { OilFeedFactor = effects.OilFeedFactor * (1 + (0.9 * s)) },
            Cause.OilLeak => effects with { OilLeakShare = effects.OilLeakShare + (0.9 * s) },
            Cause.OilLineChoked => effects with { OilFeedFactor = effects.OilFeedFactor * (1 - (0.9 * s)) },
            Cause.CoolingPoor => effects with { HeatFactor = effects.HeatFactor * (1 + (0.4 * s)) },
            Cause.DischargeCarboned => effects with { HeatFactor = effects.HeatFactor * (1 + (0.45 * s)) },
            Cause.LeakTankSide => effects with { LeakShare = effects.LeakShare + (0.12 * s) },
            _ => throw new NotSupportedException($"The simulator has no physics for {Cause}."),
        };
    }
}
