using System.Collections.Immutable;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Findings;

/// <summary>
/// Looks whether samples wait too long for the server that keeps them. It is a finding about the installation, of no truck: what waits is missing from every
/// chart and judgement until it has been forwarded.
/// </summary>
/// <param name="options">From where on.</param>
/// <param name="knowledge">What it may mean.</param>
public sealed class ForwardingRule(FindingOptions options, Knowledge knowledge)
{
    /// <summary>The finding as it shows now, if it does.</summary>
    /// <param name="backlog">What waits.</param>
    /// <param name="asOf">The instant of the analysis.</param>
    /// <param name="before">Every finding kept so far: after a person closed one, the same backlog counts from then on.</param>
    public IEnumerable<Finding> Look(ForwardingBacklog backlog, DateTimeOffset asOf, IReadOnlyList<Finding> before)
    {
        ArgumentNullException.ThrowIfNull(backlog);
        ArgumentNullException.ThrowIfNull(before);
        if (backlog.OldestArrival is not { } oldest)
        {
            yield break;
        }

        var dealtWith = before
            .Where(f => f is { Kind: FindingKind.ForwardingBehind, HasVerdict: true, Closed: not null })
            .Select(f => f.Closed!.Value)
            .DefaultIfEmpty(DateTimeOffset.MinValue)
            .Max();
        var since = oldest > dealtWith ? oldest : dealtWith;
        var minutes = (asOf - since).TotalMinutes;
        if (minutes <= options.ForwardingBehindMinutes)
        {
            yield break;
        }

        ImmutableArray<Evidence> evidence =
        [
            new("oldest sample not yet on the server has waited", minutes, "min", null, options.ForwardingBehindMinutes),
            new("samples not yet on the server", backlog.Samples, string.Empty, null, null),
        ];
        var draft = new FindingDraft(FindingKind.ForwardingBehind, since, IsPastLimit: false, evidence);
        var (causes, checks) = knowledge.Explain(draft, ImmutableHashSet<FindingKind>.Empty, []);
        yield return new Finding
        {
            Id = FindingId.Make(draft.Kind, null, null, since),
            Kind = draft.Kind,
            Urgency = knowledge.UrgencyOf(draft),
            Status = FindingStatus.Open,
            Since = since,
            Evidence = evidence,
            Causes = causes,
            Checks = checks,
        };
    }
}
