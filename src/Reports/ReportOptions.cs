namespace Vanehour.Reports;

/// <summary>How reports are drawn.</summary>
public sealed record ReportOptions
{
    /// <summary>The units people see.</summary>
    public DisplayUnits Units { get; init; } = DisplayUnits.Trade;

    /// <summary>Whether the data come from a simulator: every page then says so.</summary>
    public bool Simulated { get; init; }

    /// <summary>Whether the data are of a training drill: every page then says so instead.</summary>
    public bool Training { get; init; }

    /// <summary>Where a truck's time axis starts; by default a little before the fitting of its pump.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>Pixels a layout unit, 1 to 4. A page is 800 x 1100 units: 1600 x 2200 pixels by default.</summary>
    public double Scale { get; init; } = 2;

    internal void CheckScale()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Scale, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Scale, 4);
    }
}
