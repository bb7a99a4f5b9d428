using System.Collections.Immutable;
using System.Globalization;

namespace Vanehour.Models.RemainingLife;

/// <summary>One way to learn remaining life.</summary>
/// <param name="Kind">The learner.</param>
/// <param name="Windows">Lengths of the windows back from an age over which indicators are read, in units of age.</param>
public sealed record LifeCandidate(LearnerKind Kind, ImmutableArray<double> Windows)
{
    /// <summary>For people.</summary>
    public override string ToString() => $"{Kind} over windows of {string.Join(", ", Windows.Select(w => w.ToString("0.##", CultureInfo.InvariantCulture)))}";
}
