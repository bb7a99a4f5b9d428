using Vanehour.Fleet.Runs;
using Vanehour.Simulator;

namespace Vanehour.Bench.Checks;

/// <summary>A check that the crew made, a check that was recognised, or both.</summary>
/// <param name="Truth">The crew's; null where there was none at that time.</param>
/// <param name="Run">The run derived at that time; null where there was none.</param>
/// <param name="Wear">True wear, 0 as fitted, 1 at the limit; NaN without a crew's check.</param>
/// <param name="ElevationM">Of the yard, m.</param>
/// <param name="Undisturbed">No fault of the pump, the truck or its sensors was there.</param>
internal sealed record JudgedCheck(TruthCheck? Truth, Run? Run, double Wear, double ElevationM, bool Undisturbed)
{
    // What off-loading leaves in a tank is less than this; liquid left on purpose is a tenth at least.
    private const double EmptyGasShare = 0.95;

    public bool IsGood => Truth is { Complete: true, GasShare: > EmptyGasShare };

    public PumpDown? PumpDown => Run?.FirstPumpDown;

    public bool IsRecognised => PumpDown is { IsStartUpCheck: true };

    /// <summary>What a check that should not have been recognised was.</summary>
    public string WhatItWas => Truth switch
    {
        null => "no check",
        { Complete: false } => "cut short",
        { GasShare: <= EmptyGasShare } => "part full",
        _ => "good",
    };

    /// <summary>Why a good check was not recognised.</summary>
    public string WhyMissed => Run is null ? "no run" : PumpDown is null ? "no pump-down" : PumpDown.Refusal?.ToString() ?? "recognised";

    /// <summary>Pairs the crew's checks of a truck with its runs by time.</summary>
    /// <param name="truths">The crew's checks.</param>
    /// <param name="runs">The runs, in order of time.</param>
    /// <param name="flowKeptLimit">The pump model's limit.</param>
    /// <param name="elevationM">Of the yard, m.</param>
    /// <param name="faults">The truck's faults.</param>
    public static IEnumerable<JudgedCheck> Pair(
        IEnumerable<TruthCheck> truths, IReadOnlyList<Run> runs, double flowKeptLimit, double elevationM, IReadOnlyList<TruthFault> faults)
    {
        // The valve is turned inside the run; a run that began with lost samples begins late.
        var slack = TimeSpan.FromMinutes(2);
        var paired = new HashSet<Run>(ReferenceEqualityComparer.Instance);
        foreach (var truth in truths)
        {
            var run = runs.FirstOrDefault(r => r.Start - slack <= truth.At && truth.At < r.End && !paired.Contains(r));
            if (run is not null)
            {
                paired.Add(run);
            }

            yield return new JudgedCheck(truth, run, (1 - truth.FlowKept) / (1 - flowKeptLimit), elevationM, IsQuiet(truth.At));
        }

        foreach (var run in runs.Where(r => r.FirstPumpDown is { IsStartUpCheck: true } && !paired.Contains(r)))
        {
            yield return new JudgedCheck(null, run, double.NaN, elevationM, IsQuiet(run.Start));
        }

        bool IsQuiet(DateTimeOffset at) => !faults.Any(f => f.Fault != Fleet.Cause.VanesWorn && f.Onset <= at && (f.Ends is null || at < f.Ends));
    }
}
