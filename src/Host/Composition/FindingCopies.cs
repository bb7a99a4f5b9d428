using Vanehour.Models.Findings;
using Vanehour.Reports.Words;
using Vanehour.Store.Influx;

namespace Vanehour.Host.Composition;

/// <summary>Findings as they are copied for dashboards.</summary>
internal static class FindingCopies
{
    // So that the closing of a finding gets through although a copy failed for a while; older ones have been copied as closed. Invented.
    private static readonly TimeSpan AfterClosing = TimeSpan.FromDays(30);

    /// <summary>The findings that are not closed, and those that were closed not long ago.</summary>
    public static IReadOnlyList<FindingCopy> Of(IReadOnlyList<Finding> findings, DateTimeOffset asOf) =>
    [
        .. findings
            .Where(f => f.Closed is not { } closed || f.Status != FindingStatus.Closed || asOf - closed < AfterClosing)
            .Select(f => new FindingCopy(f.Id, f.Truck, f.Kind.ToString(), f.Urgency.ToString(), f.Status.ToString(), f.Since, f.Closed, Text(f))),
    ];

    private static string Text(Finding finding)
    {
        var evidence = string.Join("; ", finding.Evidence.Select(e => EvidenceText.Of(e, isTrade: false)));
        return finding.Causes.IsEmpty ? evidence : $"{evidence}. Likeliest cause: {finding.Causes[0].Cause}";
    }
}
