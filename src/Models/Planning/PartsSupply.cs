namespace Vanehour.Models.Planning;

/// <summary>Rebuild kits of a pump model. The defaults are invented examples.</summary>
public sealed record PartsSupply
{
    /// <summary>Kits on the shelf.</summary>
    public int InStock { get; init; } = 2;

    /// <summary>Weeks from an order until more are there.</summary>
    public int LeadWeeks { get; init; } = 3;
}
