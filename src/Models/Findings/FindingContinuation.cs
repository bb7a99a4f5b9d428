using System.Collections.Immutable;

namespace Vanehour.Models.Findings;

/// <summary>Carries findings on from one analysis to the next, so that one trouble keeps one id.</summary>
/// <remarks>
/// A finding of the same kind on the same truck and pump that was not closed goes on: id, since and what people marked stay, the rest is renewed.
/// One that the data closed opens again under its id when it began before that closing. One that no longer shows is closed; kinds that an analysis
/// does not judge are left as they are.
/// </remarks>
public static class FindingContinuation
{
    /// <summary>The findings to keep: those that go on, open, reopen or close.</summary>
    /// <param name="before">Every finding kept so far.</param>
    /// <param name="now">What shows now.</param>
    /// <param name="judged">The kinds this analysis judges.</param>
    /// <param name="asOf">The instant of the analysis.</param>
    public static ImmutableArray<Finding> Continue(
        IReadOnlyList<Finding> before, IReadOnlyList<Finding> now, IReadOnlySet<FindingKind> judged, DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(judged);
        var kept = ImmutableArray.CreateBuilder<Finding>();
        var continued = new HashSet<string>(StringComparer.Ordinal);
        foreach (var finding in now)
        {
            var same = before.Where(b => b.Kind == finding.Kind && b.Truck == finding.Truck && b.PumpSerial == finding.PumpSerial).ToList();
            var earlier = same.LastOrDefault(b => b.Status != FindingStatus.Closed)
                ?? same.LastOrDefault(b => b.CauseFound is null && finding.Since <= b.Closed);
            if (earlier is null)
            {
                // What a person closed stays closed, and keeps what was found: a rule that shows its instant again says nothing new.
                if (same.All(b => b.Id != finding.Id))
                {
                    kept.Add(finding);
                }

                continue;
            }

            continued.Add(earlier.Id);
            kept.Add(finding with
            {
                Id = earlier.Id,
                Since = earlier.Since,
                Status = earlier.Status == FindingStatus.Acknowledged ? FindingStatus.Acknowledged : FindingStatus.Open,
                Note = earlier.Status == FindingStatus.Closed ? "opened again" : earlier.Note,
            });
        }

        foreach (var gone in before.Where(b => b.Status != FindingStatus.Closed && judged.Contains(b.Kind) && !continued.Contains(b.Id)))
        {
            kept.Add(gone with { Status = FindingStatus.Closed, Closed = asOf, Note = "the data no longer shows it" });
        }

        return kept.ToImmutable();
    }
}
