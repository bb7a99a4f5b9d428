namespace Vanehour.Models.Planning;

/// <summary>A job that is elsewhere than it was.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="From">Where it was; null: not planned.</param>
/// <param name="To">Where it is; null: not planned any more.</param>
/// <param name="Why">Why, in a sentence.</param>
public sealed record PlanMove(string Truck, PlanWeek? From, PlanWeek? To, string Why)
{
    /// <summary>The pump of the job as it was; null where there was none, or an earlier version wrote it.</summary>
    public string? WasPump { get; init; }

    /// <summary>The day on which the life of that pump began; null where an earlier version wrote it.</summary>
    public DateOnly? WasFittedOn { get; init; }

    /// <summary>The yard of the job as it was; null with <see cref="WasPump"/>.</summary>
    public string? WasYard { get; init; }
}
