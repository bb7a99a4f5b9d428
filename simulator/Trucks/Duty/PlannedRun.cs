namespace Vanehour.Simulator.Duty;

/// <summary>One engagement of the power take-off as planned.</summary>
/// <param name="Kind">What for.</param>
/// <param name="RestBeforeS">Time with the power take-off off before it, s.</param>
/// <param name="NeutralS">Time unloaded after engaging, s.</param>
/// <param name="WorkS">How long the vacuum is held, or the loading or off-loading lasts, s; 0 where a check is cut short.</param>
/// <param name="LiquidShare">Loads: share of the tank to take in. Else 0.</param>
/// <param name="Level">Loads: mean vacuum while loading over what a new pump reaches. Off-loads: pressure over the relief setting. Checks: 1.</param>
/// <param name="PumpDownShare">How far the vacuum is pulled before work begins, over the point at which the relief valve cracks; 1 for whole checks.</param>
/// <param name="EmptyBefore">Whether the tank has been emptied by gravity in the rest before.</param>
internal sealed record PlannedRun(
    RunKind Kind, int RestBeforeS, int NeutralS, int WorkS, double LiquidShare, double Level, double PumpDownShare, bool EmptyBefore = false);
