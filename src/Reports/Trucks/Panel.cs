using OxyPlot;

namespace Vanehour.Reports.Trucks;

/// <summary>One chart of a truck's page, ready to draw.</summary>
internal sealed record Panel
{
    public required string Title { get; init; }

    /// <summary>What its marks mean, beside the title, the most needed first.</summary>
    public IReadOnlyList<KeyItem> Key { get; init; } = [];

    /// <summary>What the value axis shows, with its unit.</summary>
    public required string AxisTitle { get; init; }

    public string? RightAxisTitle { get; init; }

    /// <summary>Its share of the height, beside the shares of the others.</summary>
    public required double Share { get; init; }

    public required PlotModel Model { get; init; }

    public IReadOnlyList<PanelLabel> Labels { get; init; } = [];

    /// <summary>What is said in the middle where there is nothing to draw.</summary>
    public string? Empty { get; init; }
}
