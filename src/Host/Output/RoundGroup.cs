using Vanehour.Models.Rounds;

namespace Vanehour.Host.Output;

/// <summary>The checks of one round on one truck that stand alike, as one line for people.</summary>
/// <param name="First">One of them.</param>
/// <param name="Checks">Their keys.</param>
internal sealed record RoundGroup(RoundItem First, IReadOnlyList<string> Checks)
{
    /// <summary>Groups checks, keeping their order.</summary>
    public static IReadOnlyList<RoundGroup> Of(IEnumerable<RoundItem> items) =>
    [
        .. items.GroupBy(i => (i.Truck, i.Check.Round, i.State, i.DueDay, i.Because)).Select(g => new RoundGroup(g.First(), [.. g.Select(i => i.Check.Key)])),
    ];
}
