using System.Collections.Immutable;

namespace Vanehour.Models.Findings;

/// <summary>How a kind of finding did by what people really found. Shares are null where there is nothing to divide by.</summary>
public sealed record FindingScore
{
    /// <summary>The kind; null is all of them together.</summary>
    public FindingKind? Kind { get; init; }

    /// <summary>Findings of which a person said what was found.</summary>
    public required int Judged { get; init; }

    /// <summary>Findings closed without a person's word: they say nothing here, and may be better or worse than the others.</summary>
    public required int NotJudged { get; init; }

    /// <summary>Judged findings with nothing wrong.</summary>
    public required int NothingFound { get; init; }

    /// <summary>Their share of the judged ones, 0 to 1.</summary>
    public double? NothingFoundShare => Share(NothingFound, Judged);

    /// <summary>Judged findings with a cause.</summary>
    public required int CauseFound { get; init; }

    /// <summary>Findings whose cause was ranked first.</summary>
    public required int First { get; init; }

    /// <summary>Their share of those with a cause, 0 to 1.</summary>
    public double? FirstShare => Share(First, CauseFound);

    /// <summary>Findings whose cause was ranked among the first three.</summary>
    public required int InFirstThree { get; init; }

    /// <summary>Their share of those with a cause, 0 to 1.</summary>
    public double? InFirstThreeShare => Share(InFirstThree, CauseFound);

    /// <summary>The score of each kind with closed findings, in order of kind, and last that of all together; empty where none is closed.</summary>
    /// <param name="findings">Findings in any state; open ones are passed over.</param>
    public static ImmutableArray<FindingScore> Of(IEnumerable<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var closed = findings.Where(f => f.Status == FindingStatus.Closed).ToList();
        return closed.Count == 0
            ? []
            : [.. closed.GroupBy(f => f.Kind).OrderBy(g => g.Key).Select(g => Score(g.Key, [.. g])), Score(null, closed)];
    }

    private static FindingScore Score(FindingKind? kind, List<Finding> closed)
    {
        var places = closed.Where(f => f.CauseFound is not null).Select(f => f.Causes.Select(c => c.Cause).ToList().IndexOf(f.CauseFound!.Value)).ToList();
        return new FindingScore
        {
            Kind = kind,
            Judged = closed.Count(f => f.HasVerdict),
            NotJudged = closed.Count(f => !f.HasVerdict),
            NothingFound = closed.Count(f => f.NothingFound),
            CauseFound = places.Count,
            First = places.Count(p => p == 0),
            InFirstThree = places.Count(p => p is >= 0 and < 3),
        };
    }

    private static double? Share(int part, int whole) => whole == 0 ? null : (double)part / whole;
}
