using System.Collections.Immutable;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;

namespace Vanehour.Scoring;

/// <summary>Goes through a fleet's time again, with an analysis at regular instants that sees nothing later, and follows the findings.</summary>
/// <remarks>By what an indicator is judged is compared anew every quarter, on what was known then; in between the last choice stands, or most of the time would go into comparing.</remarks>
/// <param name="options">Settings of the analysis that fits.</param>
/// <param name="judges">The analyses that judge by what was fitted, each with findings of its own.</param>
public sealed class FindingReplay(AnalysisOptions options, IReadOnlyList<AnalysisCore> judges)
{
    private static readonly TimeSpan ChoiceEvery = TimeSpan.FromDays(91);

    /// <summary>Replays. The fits of several instants are made side by side; findings follow one another.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="from">The first analysis.</param>
    /// <param name="to">No analysis later than this.</param>
    /// <param name="every">How far apart they lie.</param>
    /// <param name="progress">Told the share that is done.</param>
    /// <param name="cancellationToken">Stops between analyses.</param>
    /// <returns>One result for each judge.</returns>
    public IReadOnlyList<ReplayResult> Run(
        ReplayFleet fleet, DateTimeOffset from, DateTimeOffset to, TimeSpan every, IProgress<double>? progress, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(every, TimeSpan.Zero);
        var instants = new List<DateTimeOffset>();
        for (var at = from; at <= to; at += every)
        {
            instants.Add(at);
        }

        var books = judges.Select(_ => new Book([], new Dictionary<string, FindingStory>(StringComparer.Ordinal))).ToArray();
        var forecasts = new List<WearForecast>();
        var done = 0;
        var fitter = new AnalysisCore(options);
        DateTimeOffset? chosenAt = null;
        foreach (var chunk in instants.Chunk(Environment.ProcessorCount))
        {
            if (!(chunk[0] - chosenAt < ChoiceEvery))
            {
                chosenAt = chunk[0];
                var choices = new AnalysisCore(options).Fit(fleet.AsOf(chunk[0]), null, cancellationToken).Choices;
                fitter = new AnalysisCore(options with { Choice = options.Choice with { Taken = choices.ToDictionary(c => c.Indicator, c => c.Chosen) } });
            }

            var fits = chunk.AsParallel().AsOrdered().WithCancellation(cancellationToken).Select(at => fitter.Fit(fleet.AsOf(at), null, cancellationToken)).ToList();
            foreach (var fitted in fits)
            {
                for (var i = 0; i < books.Length; i++)
                {
                    books[i] = books[i] with { Kept = Merge(books[i].Kept, judges[i].Judge(fitted, books[i].Kept).ChangedFindings) };
                    Follow(books[i].Stories, books[i].Kept, fitted.Data.AsOf);
                }

                forecasts.AddRange(fitted.Wear.Select(w => w with { Checks = [], Fan = [] }));
                progress?.Report((double)++done / instants.Count);
            }
        }

        return [.. books.Select(b => new ReplayResult(
            from,
            instants.Count == 0 ? from : instants[^1],
            every,
            fleet.Trucks.Count * (to - from).TotalDays / 365.25,
            [.. b.Stories.Values.OrderBy(s => s.OpenedAt).ThenBy(s => s.Truck, StringComparer.Ordinal).ThenBy(s => s.First.Kind)],
            [.. forecasts]))];
    }

    private static List<Finding> Merge(IReadOnlyList<Finding> kept, ImmutableArray<Finding> changed)
    {
        var byId = changed.ToDictionary(f => f.Id, StringComparer.Ordinal);
        return [.. kept.Where(f => !byId.ContainsKey(f.Id)), .. changed];
    }

    private static void Follow(Dictionary<string, FindingStory> stories, IReadOnlyList<Finding> kept, DateTimeOffset asOf)
    {
        foreach (var finding in kept.Where(f => f.Truck is not null))
        {
            var isOpen = finding.Status != FindingStatus.Closed;
            if (!stories.TryGetValue(finding.Id, out var story))
            {
                stories[finding.Id] = new FindingStory(finding, asOf);
            }
            else if (isOpen)
            {
                stories[finding.Id] = story with { LastOpenAt = asOf, Last = finding, Reopened = story.Reopened + (story.IsOpen ? 0 : 1), IsOpen = true };
            }
            else
            {
                stories[finding.Id] = story with { IsOpen = false };
            }
        }
    }

    private sealed record Book(IReadOnlyList<Finding> Kept, Dictionary<string, FindingStory> Stories);
}
