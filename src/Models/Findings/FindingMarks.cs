namespace Vanehour.Models.Findings;

/// <summary>What people do to a finding.</summary>
public static class FindingMarks
{
    /// <summary>The finding as seen by a person; a closed one stays as it is.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="by">Who; null where it is not said.</param>
    /// <param name="note">What else there is to say; null keeps the note there is.</param>
    public static Finding Acknowledged(this Finding finding, string? by, string? note)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return finding.Status == FindingStatus.Closed
            ? finding
            : finding with { Status = FindingStatus.Acknowledged, AcknowledgedBy = by ?? finding.AcknowledgedBy, Note = note ?? finding.Note };
    }

    /// <summary>
    /// The finding closed with what was really found. One that data or a service record closed keeps that and its instant, and gets the verdict: after a
    /// repair the data is often quicker than the person who did it. One with a verdict stays as it is.
    /// </summary>
    /// <param name="finding">The finding.</param>
    /// <param name="verdict">What was found.</param>
    /// <param name="at">Now.</param>
    public static Finding Closed(this Finding finding, Verdict verdict, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(finding);
        ArgumentNullException.ThrowIfNull(verdict);
        if (finding.HasVerdict)
        {
            return finding;
        }

        var wasClosed = finding.Status == FindingStatus.Closed;
        return finding with
        {
            Status = FindingStatus.Closed,
            Closed = wasClosed ? finding.Closed : at,
            Closing = wasClosed ? finding.Closing ?? FindingClosing.Data : FindingClosing.Person,
            CauseFound = verdict.Cause,
            NothingFound = verdict.Cause is null,
            ClosedBy = verdict.By,
            Note = verdict.Note ?? finding.Note,
        };
    }
}
