namespace Vanehour.Fleet;

/// <summary>What can be wrong with a pump system. Findings rank them, the simulator injects them, drills ask for them.</summary>
public enum Cause
{
    OilLineChoked,
    OilFeedHigh,
    OilLeak,
    OilWrongOrThinned,
    CarryOver,
    InletFilterClogged,
    HoseLiningInlet,
    HoseLiningDischarge,
    LeakTankSide,
    ReliefLow,
    ReliefHigh,
    ReliefStuck,
    FloatClosesEarly,
    VanesWorn,
    VanesSticking,
    DischargeCarboned,
    Overspeed,
    Underspeed,
    CouplingSlip,
    CoolingPoor,
    SensorWrong,
    MeterReset,
    GatewaySilent,
    StoreUnreachable,
    StoreRefusing,
    StoreSlow,
}
