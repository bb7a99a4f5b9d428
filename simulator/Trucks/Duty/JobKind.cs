namespace Vanehour.Simulator.Duty;

/// <summary>What is being hauled.</summary>
internal enum JobKind
{
    Septic,
    GreaseTrap,
    CatchBasin,
    Industrial,
}
