using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Host.Output;

/// <summary>A recurring check as listed; what is not known is null.</summary>
/// <param name="Key">Its stable name, truck/check.</param>
/// <param name="Truck">The truck's id.</param>
/// <param name="Yard">The truck's yard.</param>
/// <param name="Round">The round it belongs to.</param>
/// <param name="Check">The key of the check.</param>
/// <param name="IfFitted">Whether the register does not say that the truck has what is checked.</param>
/// <param name="State">Where it stands.</param>
/// <param name="DueAt">When it is due: the beginning of a day in the truck's zone.</param>
/// <param name="DueOn">That day in the truck's zone.</param>
/// <param name="DueBy">What makes it due then.</param>
/// <param name="DueAtH">The reading of the meter at which it is due, h.</param>
/// <param name="HoursLeft">PTO hours left, h; below 0 once they are over.</param>
/// <param name="LastDone">When it was last done.</param>
/// <param name="DoneBy">Who did it.</param>
/// <param name="Evidence">How that is known.</param>
/// <param name="Because">Why it stands so.</param>
/// <param name="Finding">The finding that pulls it forward.</param>
/// <param name="Instruction">How to do it.</param>
/// <param name="Cautions">What to mind.</param>
public sealed record RoundRow(
    string Key,
    string Truck,
    string Yard,
    RoundKind Round,
    string Check,
    bool IfFitted,
    RoundState State,
    DateTimeOffset? DueAt,
    string? DueOn,
    RoundDueBy? DueBy,
    double? DueAtH,
    double? HoursLeft,
    DateTimeOffset? LastDone,
    string? DoneBy,
    RoundEvidence? Evidence,
    string? Because,
    string? Finding,
    string Instruction,
    IReadOnlyList<string> Cautions)
{
    /// <summary>The row of a check.</summary>
    /// <param name="item">The check on its truck.</param>
    /// <param name="yard">The truck's yard.</param>
    public static RoundRow Of(RoundItem item, string yard)
    {
        ArgumentNullException.ThrowIfNull(item);
        return new RoundRow(
            item.Key,
            item.Truck,
            yard,
            item.Check.Round,
            item.Check.Key,
            item.IfFitted,
            item.State,
            item.DueAt,
            IsoDay.Of(item.DueDay),
            item.DueBy,
            item.DueAtMeterH,
            item.HoursLeft,
            item.LastDone?.At,
            item.LastDone?.By,
            item.LastDone?.Evidence,
            item.Because,
            item.Finding?.Id,
            item.Check.Instruction,
            [.. item.Check.CautionTexts(Knowledge.Default)]);
    }
}
