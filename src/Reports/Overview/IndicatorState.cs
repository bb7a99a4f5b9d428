namespace Vanehour.Reports.Overview;

/// <summary>What an indicator of a truck says in one word.</summary>
internal enum IndicatorState
{
    /// <summary>No readings lately.</summary>
    NoData,

    /// <summary>Readings, but nothing to judge them by yet.</summary>
    Young,

    /// <summary>Readings and no open finding.</summary>
    Normal,

    Low,

    High,
}
