using System.Collections.Immutable;

namespace Vanehour.Models.RemainingLife;

/// <summary>What is to be learned of remaining life, from histories that ran to their end, and how.</summary>
public sealed record RemainingLifeTask
{
    /// <summary>
    /// Remaining life above this is learned as this, in units of age: a unit as good as new does not show how long it will last. A prediction at the cap says "this or more".
    /// </summary>
    public required double Cap { get; init; }

    /// <summary>Sets of windows that are tried, lengths back from an age in units of age.</summary>
    public required ImmutableArray<ImmutableArray<double>> Windows { get; init; }

    /// <summary>Learners that are tried.</summary>
    public ImmutableArray<LearnerKind> Kinds { get; init; } = [LearnerKind.Line, LearnerKind.BoostedTrees, LearnerKind.Forest];

    /// <summary>Chance that the interval is to hold what is left.</summary>
    public double Level { get; init; } = 0.8;

    /// <summary>Fewest ended lives to learn from; of our own.</summary>
    public int FewestUnits { get; init; } = 20;

    /// <summary>Ages of a unit that a window needs behind it before it is learned from.</summary>
    public int FewestAges { get; init; } = 5;

    /// <summary>Groups into which units are split to hold them out.</summary>
    public int Folds { get; init; } = 5;

    /// <summary>Every candidate.</summary>
    public ImmutableArray<LifeCandidate> Candidates => [.. Windows.SelectMany(w => Kinds.Select(k => new LifeCandidate(k, w)))];

    /// <summary>What is wrong with this task, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(Cap > 0) || !double.IsFinite(Cap))
        {
            yield return "The cap must be above 0.";
        }

        if (Windows.IsDefaultOrEmpty || Windows.Any(w => w.IsDefaultOrEmpty || w.Any(l => !(l > 0))) || Kinds.IsDefaultOrEmpty)
        {
            yield return "At least one set of windows above 0 and one learner are needed.";
        }

        if (Level is not (> 0 and < 1) || Folds < 2 || FewestUnits < Folds || FewestAges < 1)
        {
            yield return "The level must lie between 0 and 1, and 2 groups, as many units as groups and 1 age are needed at least.";
        }
    }
}
