using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Fleet.Lives;

namespace Vanehour.Models.Findings;

/// <summary>Carries findings on from one analysis to the next, so that one trouble keeps one id.</summary>
/// <remarks>
/// A finding of the same kind on the same truck and pump that was not closed goes on: id, since and what people marked stay, the rest is renewed.
/// One that the data closed opens again under its id when it began before that closing, unless a person has said what it was. One that no longer shows is
/// closed, by a service record where one ended the pump's life since; kinds that an analysis does not judge are left as they are.
/// </remarks>
public static class FindingContinuation
{
    private const string OpenedAgain = "opened again";
    private const string NoLongerShown = "the data no longer shows it";
    private const string Recorded = "recorded: ";

    /// <summary>The findings to keep: those that go on, open, reopen or close.</summary>
    /// <param name="before">Every finding kept so far.</param>
    /// <param name="now">What shows now.</param>
    /// <param name="judged">The kinds this analysis judges.</param>
    /// <param name="asOf">The instant of the analysis.</param>
    /// <param name="ended">The lives that ended up to then.</param>
    public static ImmutableArray<Finding> Continue(
        IReadOnlyList<Finding> before, IReadOnlyList<Finding> now, IReadOnlySet<FindingKind> judged, DateTimeOffset asOf, IReadOnlyList<Life>? ended = null)
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
                ?? same.LastOrDefault(b => !b.HasVerdict && finding.Since <= b.Closed);
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
                AcknowledgedBy = earlier.AcknowledgedBy,
                Note = earlier.Status == FindingStatus.Closed && IsOurs(earlier.Note) ? OpenedAgain : earlier.Note,
            });
        }

        foreach (var gone in before.Where(b => b.Status != FindingStatus.Closed && judged.Contains(b.Kind) && !continued.Contains(b.Id)))
        {
            var life = ended?.LastOrDefault(l => l.Truck == gone.Truck && l.PumpSerial == gone.PumpSerial && l.EndedAt >= gone.Since && l.EndedAt <= asOf);
            kept.Add(gone with
            {
                Status = FindingStatus.Closed,
                Closed = asOf,
                Closing = life is null ? FindingClosing.Data : FindingClosing.ServiceRecord,
                Note = IsOurs(gone.Note) ? NoLonger(life) : gone.Note,
            });
        }

        return kept.ToImmutable();
    }

    private static string NoLonger(Life? life) => life is null
        ? NoLongerShown
        : string.Create(CultureInfo.InvariantCulture, $"{Recorded}{life.EndedBy} on {life.EndedAt:yyyy-MM-dd}");

    // What a person wrote stays.
    private static bool IsOurs(string? note) => note is null or OpenedAgain or NoLongerShown || note.StartsWith(Recorded, StringComparison.Ordinal);
}
