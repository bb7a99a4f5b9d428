using System.Collections.Immutable;

namespace Vanehour.Models.RemainingLife;

//   ended lives --> health index --> windows: mean and slope of each indicator --> learner (Microsoft.ML) --> remaining life, capped
//        |                                                                             ^
//        '--> by units held out: which candidate errs least, and by how much it errs --'--> interval

/// <summary>Remaining life learned from units that ran to their end: unit, age and indicators in, what is left out.</summary>
/// <remarks>
/// It has learned from ended lives only. Where units joined lately, those are the short-lived ones among their like, and predictions come out early for the rest.
/// </remarks>
public sealed class RemainingLifeModel
{
    private readonly RemainingLifeTask task;
    private readonly LifeRegression regression;
    private readonly HeldOutErrors errors;
    private readonly int width;

    private RemainingLifeModel(
        RemainingLifeTask task, LifeCandidate candidate, ImmutableArray<LifeCandidateScore> scores, ImmutableArray<HeldOutLife> held, LifeRegression regression, int width, int units)
    {
        this.task = task;
        this.regression = regression;
        this.width = width;
        Candidate = candidate;
        Scores = scores;
        HeldOut = held;
        Units = units;
        errors = new HeldOutErrors([.. held.Select(h => new HeldOutError(h.Unit, h.Predicted, h.CameTrue - h.Predicted))], task.Level);
    }

    /// <summary>The candidate that erred least on units held out.</summary>
    public LifeCandidate Candidate { get; }

    /// <summary>All candidates, the best first.</summary>
    public ImmutableArray<LifeCandidateScore> Scores { get; }

    /// <summary>The chosen candidate's predictions for units held out, in order of unit and age.</summary>
    public ImmutableArray<HeldOutLife> HeldOut { get; }

    /// <summary>How many ended lives it learned from.</summary>
    public int Units { get; }

    /// <summary>Learns.</summary>
    /// <param name="histories">Units; those whose life has not ended are left out.</param>
    /// <param name="task">How.</param>
    /// <param name="seed">Of the split into groups and of the learners.</param>
    /// <param name="cancellationToken">Stops between fits.</param>
    /// <returns>The model; null where the ended lives are fewer than <see cref="RemainingLifeTask.FewestUnits"/>.</returns>
    /// <exception cref="ArgumentException">The task or a history are not sound; the message says what.</exception>
    public static RemainingLifeModel? Learn(IReadOnlyList<UnitHistory> histories, RemainingLifeTask task, ulong seed, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(task);
        if (task.Problems().ToList() is { Count: > 0 } problems)
        {
            throw new ArgumentException(string.Join(' ', problems), nameof(task));
        }

        var width = histories.Count == 0 ? 0 : histories[0].Indicators.Count == 0 ? 0 : histories[0].Indicators[0].Count;
        foreach (var history in histories)
        {
            history.Check(width);
        }

        List<UnitHistory> ended = [.. histories.Where(h => h.EndsAtAge is not null && h.Ages.Count >= task.FewestAges).OrderBy(h => h.Unit, StringComparer.Ordinal)];
        if (ended.Count < task.FewestUnits)
        {
            return null;
        }

        if (ended.Zip(ended.Skip(1)).FirstOrDefault(p => p.First.Unit == p.Second.Unit).First is { } twice)
        {
            throw new ArgumentException($"Unit {twice.Unit} is there twice.", nameof(histories));
        }

        var trainerSeed = (int)(seed % int.MaxValue);
        var groups = Groups(ended.Count, task.Folds, trainerSeed);
        var tries = task.Candidates.SelectMany(c => Enumerable.Range(0, task.Folds).Select(f => (Candidate: c, Fold: f))).ToArray();
        var held = new HeldOutLife[tries.Length][];
        Parallel.For(0, tries.Length, new ParallelOptions { CancellationToken = cancellationToken, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            var (candidate, fold) = tries[i];
            var learned = LifeRegression.Learn(candidate, [.. ended.Where((_, u) => groups[u] != fold)], task, trainerSeed);
            held[i] = [.. ended.Where((_, u) => groups[u] == fold).SelectMany(u => HeldOutOf(u, learned, task))];
        });
        var scored = tries.Zip(held).GroupBy(t => t.First.Candidate).Select(g => (Candidate: g.Key, Held: g.SelectMany(t => t.Second).ToList()))
            .Select(c => (Score: Score(c.Candidate, c.Held), c.Held)).OrderBy(c => c.Score.Rmse).ToList();
        var (best, ofBest) = scored[0];
        return new RemainingLifeModel(
            task,
            best.Candidate,
            [.. scored.Select(s => s.Score)],
            [.. ofBest.OrderBy(h => h.Unit, StringComparer.Ordinal).ThenBy(h => h.Age)],
            LifeRegression.Learn(best.Candidate, ended, task, trainerSeed),
            width,
            ended.Count);
    }

    /// <summary>What is left at the last age of a unit.</summary>
    /// <param name="history">The unit; the end of its life is not looked at.</param>
    /// <exception cref="ArgumentException">The history is not sound.</exception>
    public RemainingLifePrediction Predict(UnitHistory history)
    {
        ArgumentNullException.ThrowIfNull(history);
        history.Check(width);
        var expected = regression.Predict(history, history.Ages.Count - 1)[0];
        return About(expected);
    }

    /// <summary>What is expected to be left at each age of a unit from the <see cref="RemainingLifeTask.FewestAges"/>th on, each without what came later, in units of age.</summary>
    /// <param name="history">The unit; the end of its life is not looked at.</param>
    /// <exception cref="ArgumentException">The history is not sound.</exception>
    public IReadOnlyList<double> Along(UnitHistory history)
    {
        ArgumentNullException.ThrowIfNull(history);
        history.Check(width);
        return regression.Predict(history, task.FewestAges - 1);
    }

    /// <summary>A prediction with its interval: high null where the cap, and what lies beyond it, is inside.</summary>
    /// <param name="expected">Between 0 and the cap, in units of age.</param>
    public RemainingLifePrediction About(double expected)
    {
        var (low, _, high) = errors.Band(expected);
        return new RemainingLifePrediction(
            expected, Math.Clamp(expected + low, 0, expected), expected + high < task.Cap ? Math.Max(expected, expected + high) : null);
    }

    private static IEnumerable<HeldOutLife> HeldOutOf(UnitHistory unit, LifeRegression learned, RemainingLifeTask task)
    {
        var first = task.FewestAges - 1;
        return learned.Predict(unit, first)
            .Select((p, i) => new HeldOutLife(unit.Unit, unit.Ages[first + i], p, Math.Min(task.Cap, unit.EndsAtAge!.Value - unit.Ages[first + i])));
    }

    private static LifeCandidateScore Score(LifeCandidate candidate, List<HeldOutLife> held)
    {
        var byUnit = held.GroupBy(h => h.Unit, StringComparer.Ordinal).Select(g => g.Average(h => (h.Predicted - h.CameTrue) * (h.Predicted - h.CameTrue))).ToList();
        var mean = byUnit.Average();
        var se = Math.Sqrt(byUnit.Sum(m => (m - mean) * (m - mean)) / (byUnit.Count - 1) / byUnit.Count);
        var rmse = Math.Sqrt(mean);
        return new LifeCandidateScore(candidate, rmse, rmse > 0 ? se / (2 * rmse) : 0);
    }

    private static int[] Groups(int units, int folds, int seed)
    {
        var random = new MathNet.Numerics.Random.Mrg32k3a(1 + seed);
        var groups = Enumerable.Range(0, units).Select(i => i % folds).ToArray();
        for (var i = units - 1; i > 0; i--)
        {
            var j = random.Next(i + 1);
            (groups[i], groups[j]) = (groups[j], groups[i]);
        }

        return groups;
    }
}
