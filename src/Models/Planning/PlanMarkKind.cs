namespace Vanehour.Models.Planning;

/// <summary>The kinds of marks on a plan.</summary>
public enum PlanMarkKind
{
    /// <summary>This truck in this week.</summary>
    Pin,

    /// <summary>Nothing in these weeks: of a truck, of a yard, or at all.</summary>
    Block,
}
