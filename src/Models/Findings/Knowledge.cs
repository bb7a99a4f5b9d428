using System.Collections.Immutable;
using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Models.Results;

namespace Vanehour.Models.Findings;

/// <summary>The knowledge table: what each finding may mean, how to tell, and what to mind. It is the file knowledge.json beside this one.</summary>
public sealed record Knowledge
{
    private const string Resource = "Vanehour.Models.Findings.knowledge.json";

    // How far another finding on the same pump moves a cause; of our own.
    private const double OtherFindingFactor = 3;

    private static readonly Lazy<Knowledge> Read = new(() =>
    {
        using var stream = typeof(Knowledge).Assembly.GetManifestResourceStream(Resource)
            ?? throw new InvalidOperationException($"{Resource} is not in the assembly.");
        return JsonSerializer.Deserialize(stream, ModelsJson.Default.Knowledge)
            ?? throw new InvalidOperationException($"{Resource} is empty.");
    });

    /// <summary>The table that comes with the program.</summary>
    public static Knowledge Default => Read.Value;

    /// <summary>What the table is.</summary>
    public required string About { get; init; }

    /// <summary>The cautions by name.</summary>
    public required ImmutableDictionary<string, string> Cautions { get; init; }

    public required ImmutableArray<KnownFinding> Findings { get; init; }

    /// <summary>What each cause does to the signs; a cause without a row is neither helped nor hurt by them.</summary>
    public required ImmutableArray<KnownSigns> Signs { get; init; }

    /// <summary>The part about a kind; null where there is none.</summary>
    public KnownFinding? Of(FindingKind kind) => Findings.FirstOrDefault(f => f.Kind == kind);

    /// <summary>How urgent a draft is.</summary>
    public Urgency UrgencyOf(FindingDraft draft)
    {
        ArgumentNullException.ThrowIfNull(draft);
        var known = Of(draft.Kind);
        return (draft.IsPastLimit ? known?.UrgencyPastLimit : null) ?? known?.Urgency ?? Urgency.Later;
    }

    /// <summary>Causes of a draft, likeliest first, and their checks in the same order, each check once.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="others">The other kinds found on the same pump.</param>
    /// <param name="signs">How the pump stands otherwise.</param>
    public (ImmutableArray<RankedCause> Causes, ImmutableArray<Check> Checks) Explain(
        FindingDraft draft, IReadOnlySet<FindingKind> others, ImmutableArray<SignReading> signs)
    {
        ArgumentNullException.ThrowIfNull(draft);
        ArgumentNullException.ThrowIfNull(others);
        var ranked = (Of(draft.Kind)?.Causes ?? [])
            .Where(c => c.Side == FindingSide.Either || draft.Side == FindingSide.Either || c.Side == draft.Side)
            .Select(c => (Known: c, Weight: Weigh(c)))
            .OrderByDescending(c => c.Weight)
            .ToList();
        var total = ranked.Sum(c => c.Weight);
        return (
            [
                .. ranked.Select(c => new RankedCause(c.Known.Cause, c.Weight / total)
                {
                    For = [.. Expected(c.Known.Cause).Where(e => Seen(e.Sign) == e.State).Select(e => e.Sign)],
                    Against = [.. Expected(c.Known.Cause).Where(e => Seen(e.Sign) is not SignState.Unknown and var seen && seen != e.State).Select(e => e.Sign)],
                }),
            ],
            [.. ranked.Select(c => c.Known).DistinctBy(c => c.Check).Select(c => new Check(c.Check, string.Join(' ', c.Cautions.Select(name => Cautions[name]))))]);

        double Weigh(KnownCause cause)
        {
            var weight = cause.Weight;
            weight *= Math.Pow(OtherFindingFactor, cause.With.Count(others.Contains));
            weight /= Math.Pow(OtherFindingFactor, cause.Without.Count(others.Contains));
            return Expected(cause.Cause).Aggregate(weight, (w, e) => w * e.Weigh(Seen(e.Sign)));
        }

        ImmutableArray<ExpectedSign> Expected(Cause cause) => Signs.FirstOrDefault(s => s.Cause == cause)?.Signs ?? [];

        SignState Seen(Sign sign) => signs.FirstOrDefault(s => s.Sign == sign)?.State ?? SignState.Unknown;
    }
}
