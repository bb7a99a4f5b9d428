using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Rounds;

/// <summary>
/// Rounds that a truck's crew keeps and has let slip: one finding a truck, with each round that is overdue as evidence and its checks to make up for. It is about the truck, not
/// the pump: it goes on when a pump is changed. It has no causes: a round that was not made points to nothing in the pump.
/// </summary>
/// <param name="options">How rounds are counted.</param>
/// <param name="knowledge">The cautions.</param>
public sealed class RoundRule(RoundOptions options, Knowledge knowledge)
{
    private readonly RoundPlanner _planner = new(RoundTable.Default, options);

    /// <summary>The finding as it shows now, if it does.</summary>
    /// <param name="truck">The truck.</param>
    /// <param name="records">Its service records.</param>
    /// <param name="runs">Its runs, in order of time.</param>
    /// <param name="asOf">The instant of the analysis.</param>
    /// <param name="before">Every finding kept so far: after a person closed one, what was due then no longer counts.</param>
    public IEnumerable<Finding> Look(Truck truck, IReadOnlyList<ServiceRecord> records, IEnumerable<Run> runs, DateTimeOffset asOf, IReadOnlyList<Finding> before)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(before);
        if (options.Expect == false || !_planner.IsAnyKept(truck, records))
        {
            yield break;
        }

        var dealtWith = before
            .Where(f => f is { Kind: FindingKind.RoundOverdue, HasVerdict: true, Closed: not null } && f.Truck == truck.Id)
            .Select(f => f.Closed!.Value)
            .DefaultIfEmpty(DateTimeOffset.MinValue)
            .Max();
        var overdue = _planner.Plan(truck, records, runs, [], asOf).Items.Where(i => i.IsOverdue && i.DueAt > dealtWith).ToList();
        if (overdue.Count == 0)
        {
            yield break;
        }

        var since = overdue.Min(i => i.DueAt!.Value);
        yield return new Finding
        {
            Id = FindingId.Make(FindingKind.RoundOverdue, truck.Id, null, since),
            Truck = truck.Id,
            Kind = FindingKind.RoundOverdue,
            Urgency = overdue.Min(i => i.Check.Urgency),
            Status = FindingStatus.Open,
            Since = since,
            Evidence = [.. overdue.GroupBy(i => i.Check.Round).SelectMany(g => Evidence(g.Key, [.. g]))],
            Causes = [],
            Checks = [.. overdue.OrderBy(i => i.Check.Urgency).Select(i => new Check(i.Check.Instruction, string.Join(' ', i.Check.CautionTexts(knowledge))))],
        };
    }

    // Of each round the check that has waited longest, by days and by hours.
    private static IEnumerable<Evidence> Evidence(RoundKind round, ImmutableArray<RoundItem> items)
    {
        var name = round == RoundKind.Hours ? "checks by hours" : $"{round.ToString().ToLowerInvariant()} round";
        var of = string.Create(CultureInfo.InvariantCulture, $"{name}, {items.Length} overdue");
        if (items.Where(i => i.DueBy != RoundDueBy.Hours).MaxBy(i => i.DaysSince) is { DaysSince: { } days } byDays)
        {
            yield return new Evidence($"{of}: days since {byDays.Check.Key}", days, "d", null, byDays.Check.Days);
        }

        if (items.Where(i => i.DueBy == RoundDueBy.Hours).MinBy(i => i.HoursLeft) is { HoursLeft: { } left, Check.Hours: { } every } byHours)
        {
            yield return new Evidence($"{of}: PTO hours since {byHours.Check.Key}", every - left, "h", null, every);
        }
    }
}
