namespace Vanehour.Simulator.Duty;

/// <summary>One engagement of the power take-off as planned.</summary>
/// <param name="Kind">What for.</param>
/// <param name="RestBeforeS">Time with the power take-off off before it, s.</param>
/// <param name="NeutralS">Time unloaded after engaging, s.</param>
/// <param name="WorkS">How long the vacuum is held, or the loading or off-loading lasts, s.</param>
/// <param name="GasShare">Share of the tank that is gas, above 0, at most 1.</param>
/// <param name="Level">Loads: mean vacuum while loading over the reachable one. Off-loads: pressure over the relief setting. Checks: 1.</param>
/// <param name="PumpDownShare">How far the vacuum is pulled before work begins, over the relief setting; 1 for checks.</param>
internal sealed record PlannedRun(
    RunKind Kind, int RestBeforeS, int NeutralS, int WorkS, double GasShare, double Level, double PumpDownShare);
