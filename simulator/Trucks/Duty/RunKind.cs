namespace Vanehour.Simulator.Duty;

/// <summary>What the pump is engaged for.</summary>
internal enum RunKind
{
    /// <summary>The daily start-up check: closed tank, up to the relief valve, held.</summary>
    StartUpCheck,

    /// <summary>A pump-down and loading.</summary>
    Load,

    /// <summary>Off-loading under pressure.</summary>
    OffLoad,
}
