using System.Collections.Immutable;
using Vanehour.Models.Watching;

namespace Vanehour.Models.Findings;

/// <summary>Brings what the watch of new samples saw into the findings: one finding for each kind on a pump, whoever saw it first.</summary>
public static class WatchedFindings
{
    /// <summary>The finding that a sighting opens or changes; null where it says nothing new.</summary>
    /// <param name="all">Every finding there is.</param>
    /// <param name="truck">The truck.</param>
    /// <param name="pumpSerial">The pump on it.</param>
    /// <param name="sighting">What was seen.</param>
    /// <param name="knowledge">What it may mean.</param>
    public static Finding? Apply(IReadOnlyList<Finding> all, string truck, string pumpSerial, LimitSighting sighting, Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(all);
        ArgumentNullException.ThrowIfNull(sighting);
        ArgumentNullException.ThrowIfNull(knowledge);
        var own = all.Where(f => f.Truck == truck && f.PumpSerial == pumpSerial).ToList();
        var same = own.Where(f => f.Kind == sighting.Kind).ToList();

        // After a person has dealt with one in the midst of it, the time counts from then on.
        var dealtWith = same.Where(f => f.HasVerdict && f.Closed is not null).Select(f => f.Closed!.Value).DefaultIfEmpty(DateTimeOffset.MinValue).Max();
        var seen = sighting.Seen.From > dealtWith ? sighting.Seen : sighting.Seen with { From = dealtWith };
        if ((seen.LastSeen - seen.From).TotalSeconds <= seen.HoldS)
        {
            return null;
        }

        return same.LastOrDefault(f => f.Status != FindingStatus.Closed) is { } open ? Renew(open, seen, sighting.IsOver) : Open(own, truck, pumpSerial, sighting.Kind, seen, knowledge);
    }

    /// <summary>The numbers that a sighting gives.</summary>
    public static ImmutableArray<Evidence> EvidenceOf(FindingKind kind, WatchedLimit seen)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var what = kind switch
        {
            FindingKind.HeldAboveVacuumLimit => "vacuum",
            FindingKind.PressureAboveLimit => "tank pressure",
            _ => "pump temperature",
        };
        return
        [
            new Evidence($"{what} above the limit without a break", (seen.LastSeen - seen.From).TotalMinutes, "min", 0, seen.HoldS / 60),
            new Evidence($"highest {what} meanwhile", seen.Peak, seen.Unit, null, seen.Limit),
        ];
    }

    private static Finding? Renew(Finding open, WatchedLimit seen, bool isOver)
    {
        // While it goes on nothing is written again and again: it was said when it was raised, and is said once more when it is over. After a restart the
        // same passing may be seen to begin later than it did.
        if (open.Watched is { } before && open.Urgency == Urgency.Stop && seen.From <= before.LastSeen)
        {
            if (!isOver || seen.LastSeen <= before.LastSeen)
            {
                return null;
            }

            seen = seen with { From = before.From < seen.From ? before.From : seen.From, Peak = Math.Max(before.Peak, seen.Peak) };
        }

        var names = EvidenceOf(open.Kind, seen).Select(e => e.Indicator).ToHashSet(StringComparer.Ordinal);
        return open with
        {
            Urgency = Urgency.Stop,
            Watched = seen,
            Evidence = [.. open.Evidence.Where(e => !names.Contains(e.Indicator)), .. EvidenceOf(open.Kind, seen)],
        };
    }

    private static Finding Open(List<Finding> own, string truck, string pumpSerial, FindingKind kind, WatchedLimit seen, Knowledge knowledge)
    {
        var draft = new FindingDraft(kind, seen.From, IsPastLimit: true, EvidenceOf(kind, seen));
        var others = own.Where(f => f.Status != FindingStatus.Closed).Select(f => f.Kind).ToHashSet();
        var (causes, checks) = knowledge.Explain(draft, others, []);
        return new Finding
        {
            Id = FindingId.Make(kind, truck, pumpSerial, seen.From),
            Truck = truck,
            PumpSerial = pumpSerial,
            Kind = kind,
            Urgency = Urgency.Stop,
            Status = FindingStatus.Open,
            Since = seen.From,
            Watched = seen,
            Evidence = draft.Evidence,
            Causes = causes,
            Checks = checks,
        };
    }
}
