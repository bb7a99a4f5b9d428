using System.Collections.Immutable;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Output;

/// <summary>The listing of how findings did by what people found.</summary>
internal static class FindingScores
{
    private const string AllKinds = "all";

    private static readonly Column<FindingScore>[] Columns =
    [
        new("kind", "Kind", s => s.Kind?.ToString() ?? AllKinds),
        new("judged", "Judged", s => s.Judged),
        new("nothing_found", "Nothing found", s => s.NothingFound),
        new("nothing_found_share", "Share", s => s.NothingFoundShare, "0 %"),
        new("cause_found", "Cause found", s => s.CauseFound),
        new("first", "Ranked first", s => s.First),
        new("first_share", "Share", s => s.FirstShare, "0 %"),
        new("in_first_three", "In first three", s => s.InFirstThree),
        new("in_first_three_share", "Share", s => s.InFirstThreeShare, "0 %"),
        new("not_judged", "Closed without a word", s => s.NotJudged, Rank: 1),
    ];

    public static void Write(TextWriter output, ListingFormat format, ImmutableArray<FindingScore> scores) => Listing.Write(
        output,
        format,
        scores,
        Columns,
        (JsonTypeInfo<IReadOnlyList<FindingScore>>)HostJson.Default.IReadOnlyListFindingScore,
        "No finding is closed yet; close one with 'vanehour findings close ID --cause CAUSE'.");
}
