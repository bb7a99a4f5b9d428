using System.Collections.Immutable;
using Vanehour.Fleet;

namespace Vanehour.Models.Rounds;

/// <summary>The recurring checks of one truck as they stand at an instant.</summary>
public sealed record TruckRounds
{
    public required Truck Truck { get; init; }

    public required DateTimeOffset AsOf { get; init; }

    /// <summary>Every check the truck has, in the order of the table.</summary>
    public required ImmutableArray<RoundItem> Items { get; init; }

    /// <summary>The truck's meter at the end of its last run, h; null where it was not read.</summary>
    public double? MeterH { get; init; }

    /// <summary>The pump on the truck; null where there is none.</summary>
    public string? PumpSerial { get; init; }

    /// <summary>Why the truck is not at work; null while it is.</summary>
    public string? Resting { get; init; }

    /// <summary>The checks of several trucks, what is due first before the rest.</summary>
    public static ImmutableArray<RoundItem> InOrder(IEnumerable<TruckRounds> trucks)
    {
        ArgumentNullException.ThrowIfNull(trucks);

        // Stable: within a truck and day the order of the table stays.
        return
        [
            .. trucks.SelectMany(t => t.Items)
                .OrderBy(i => i.State)
                .ThenBy(i => i.Finding?.Urgency)
                .ThenBy(i => i.DueAt ?? DateTimeOffset.MaxValue)
                .ThenBy(i => i.Truck, StringComparer.Ordinal)
                .ThenBy(i => i.Check.Round),
        ];
    }
}
