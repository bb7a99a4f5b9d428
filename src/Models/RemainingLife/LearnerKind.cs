namespace Vanehour.Models.RemainingLife;

/// <summary>How remaining life is learned from indicator windows.</summary>
public enum LearnerKind
{
    /// <summary>Microsoft.ML's stochastic dual coordinate ascent: one straight line.</summary>
    Line,

    /// <summary>Microsoft.ML's boosted regression trees.</summary>
    BoostedTrees,

    /// <summary>Microsoft.ML's forest of regression trees.</summary>
    Forest,
}
