using Vanehour.Fleet;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Findings;

/// <summary>What is wrong with the feed rather than with the pump: silence, a clock, a stuck sensor, a meter that jumped.</summary>
/// <param name="options">From where on.</param>
public sealed class FeedRule(FindingOptions options) : IFindingRule
{
    // A pattern needs some weekends; the longest of the usual pauses is one of them, and a holiday before or after it is no news.
    private const int FewestDays = 15;
    private const int PatternDays = 90;
    private const double UsualShare = 0.95;
    private static readonly TimeSpan Margin = TimeSpan.FromHours(48);
    private static readonly TimeSpan WithoutPattern = TimeSpan.FromDays(8);

    // A truck that went to the shop, by its own records, is missed only after so long.
    internal static readonly TimeSpan InShop = TimeSpan.FromDays(14);

    private const int Window = 10;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        FindingDraft?[] found = [Silent(state), Clock(state), Stuck(state), Meter(state)];
        return found.OfType<FindingDraft>();
    }

    /// <summary>
    /// How long a truck may be silent by its own pattern: its usual longest pause between working days and as much again as a long night, at most.
    /// </summary>
    /// <param name="runs">Its runs in order.</param>
    /// <param name="asOf">Now.</param>
    public static TimeSpan UsualPause(IEnumerable<Run> runs, DateTimeOffset asOf)
    {
        ArgumentNullException.ThrowIfNull(runs);
        var days = runs.Where(r => r.Start >= asOf.AddDays(-PatternDays)).Select(r => r.Start.UtcDateTime.Date).Distinct().ToList();
        if (days.Count < FewestDays)
        {
            return WithoutPattern;
        }

        double[] pauses = [.. days.Zip(days.Skip(1), (a, b) => (b - a).TotalDays).Order()];
        return TimeSpan.FromDays(pauses[(int)Math.Ceiling(UsualShare * pauses.Length) - 1]) + Margin;
    }

    /// <summary>The last record that says that the truck came into the shop; null where there is none.</summary>
    internal static ServiceRecord? ToShop(IReadOnlyList<ServiceRecord> records) =>
        records.LastOrDefault(r => r.Kind is ServiceKind.Failure or ServiceKind.Removed or ServiceKind.Rebuild or ServiceKind.Inspection);

    private static FindingDraft? Silent(PumpState state)
    {
        if (!state.Pump.Truck.InService || state.Feed?.LastHeard is not { } heard)
        {
            return null;
        }

        // What a person has dealt with counts again only once the truck has spoken.
        if (state.DealtWith.TryGetValue(FindingKind.FeedSilent, out var at) && heard <= at)
        {
            return null;
        }

        var toShop = ToShop(state.Pump.Records);
        if (toShop is not null && toShop.At >= heard.AddDays(-1) && state.AsOf - toShop.At < InShop)
        {
            return null;
        }

        var usual = UsualPause(state.Pump.Runs, state.AsOf);
        var silent = state.AsOf - heard;
        return silent <= usual ? null : new FindingDraft(FindingKind.FeedSilent, heard, false,
            [new Evidence("silent for", silent.TotalHours, "h", null, usual.TotalHours)]);
    }

    private FindingDraft? Clock(PumpState state)
    {
        if (state.Feed is not { LastClockReject: { } last } feed || feed.ClockRejects < options.ClockRejects
            || (state.DealtWith.TryGetValue(FindingKind.ClockWrong, out var at) && last <= at))
        {
            return null;
        }

        return new FindingDraft(FindingKind.ClockWrong, last, false,
            [new Evidence("records refused in seven days for an impossible instant", feed.ClockRejects, string.Empty, 0, options.ClockRejects)]);
    }

    private FindingDraft? Stuck(PumpState state) =>
        Noted(state, FindingKind.SensorStuck, RunNote.SensorStuck, options.StuckRunsOfTen, "runs of the last ten in which a sensor gave one exact value");

    private FindingDraft? Meter(PumpState state)
    {
        // A meter that was replaced, and said so, has not jumped.
        var replaced = state.Pump.Records.Where(r => r.Kind == ServiceKind.MeterReplaced).Select(r => r.At).ToList();
        var runs = state.RunsFor(FindingKind.MeterJumped).ToList();
        for (var i = runs.Count - 1; i > 0; i--)
        {
            if (runs[i].Start < state.AsOf.AddDays(-options.MeterJumpDays))
            {
                break;
            }

            if (Jump(runs[i - 1], runs[i]) is { } jump && !replaced.Any(at => at >= runs[i - 1].Start.AddDays(-1) && at <= runs[i].End.AddDays(1)))
            {
                return new FindingDraft(FindingKind.MeterJumped, runs[i].Start, false,
                [
                    new Evidence("meter moved between two runs by", jump, "h", 0, Math.Max(0, (runs[i].Start - runs[i - 1].End).TotalHours)),
                ]);
            }
        }

        return Noted(
            state, FindingKind.MeterJumped, RunNote.MeterDisagrees, options.MeterRunsOfTen, "runs of the last ten in which the meter disagreed with the time engaged");
    }

    // Back, or ahead of the calendar.
    private static double? Jump(Run before, Run after)
    {
        const double tolerance = 0.1;
        if (before.MeterEndH is not { } end || after.MeterStartH is not { } start)
        {
            return null;
        }

        var moved = start - end;
        return moved < -tolerance || moved > (after.Start - before.End).TotalHours + tolerance ? moved : null;
    }

    private static FindingDraft? Noted(PumpState state, FindingKind kind, RunNote note, int least, string name)
    {
        var runs = state.RunsFor(kind).ToList();
        var posts = new List<Signpost>(runs.Count);
        for (var i = 0; i < runs.Count; i++)
        {
            var count = 0;
            for (var j = Math.Max(0, i - Window + 1); j <= i; j++)
            {
                count += runs[j].Quality.Notes.Contains(note) ? 1 : 0;
            }

            posts.Add(new Signpost(runs[i].Start, (double)count / least, runs[i].Quality.Notes.Contains(note)));
        }

        return Episode.Latest(posts) is not { ClosedAt: null } episode
            ? null
            : new FindingDraft(kind, episode.Since, false,
                [new Evidence(name, runs.TakeLast(Window).Count(r => r.Quality.Notes.Contains(note)), string.Empty, 0, least - 1)]);
    }
}
