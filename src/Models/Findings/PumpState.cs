using System.Collections.Immutable;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Indicators;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Findings;

/// <summary>Everything the rules look at for one running pump.</summary>
public sealed record PumpState
{
    public required PumpHistory Pump { get; init; }

    /// <summary>The indicators of this life.</summary>
    public required ImmutableArray<PumpJudgement> Judgements { get; init; }

    /// <summary>Its wear.</summary>
    public required WearForecast Wear { get; init; }

    /// <summary>The instant of the analysis.</summary>
    public DateTimeOffset AsOf => Wear.AsOf;

    /// <summary>What is known of the truck's feed; null where it was not asked.</summary>
    public FeedSigns? Feed { get; init; }

    /// <summary>The wear of the other trucks with the same pump model.</summary>
    public required ImmutableArray<WearForecast> PeerWear { get; init; }

    /// <summary>The kinds open on this pump before this analysis; they close later than they open.</summary>
    public required ImmutableHashSet<FindingKind> OpenBefore { get; init; }

    /// <summary>When a person last closed a finding of a kind: only data from then on raises it again.</summary>
    public required ImmutableDictionary<FindingKind, DateTimeOffset> DealtWith { get; init; }

    /// <summary>The findings open on this pump that the watch of new samples raised or made more urgent, by kind.</summary>
    public ImmutableDictionary<FindingKind, Finding> Watched { get; init; } = ImmutableDictionary<FindingKind, Finding>.Empty;

    /// <summary>The runs that may raise a finding of this kind.</summary>
    public IEnumerable<Run> RunsFor(FindingKind kind) =>
        DealtWith.TryGetValue(kind, out var at) ? Pump.Runs.Where(r => r.Start >= at) : Pump.Runs;
}
