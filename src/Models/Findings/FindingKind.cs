namespace Vanehour.Models.Findings;

/// <summary>What a finding says. The names are fixed for other tools.</summary>
public enum FindingKind
{
    OilUseHigh,
    OilUseLow,
    RunningHot,
    VacuumFading,
    LeakOrBlockage,
    VanesNearLimit,
    ReliefSettingMoved,
    HeldAboveVacuumLimit,
    PressureAboveLimit,
    SpeedOutOfRange,
    CarryOver,
    FeedSilent,
    ClockWrong,
    SensorStuck,
    MeterJumped,
    RoundOverdue,
    ForwardingBehind,
}
