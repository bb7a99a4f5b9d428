using Vanehour.Fleet.Runs;

namespace Vanehour.Store.Runs;

/// <summary>Keeps derived runs, and per truck the instant up to which they are settled.</summary>
public interface IRunStore
{
    /// <summary>The runs of a truck that start in [from, to), in order; null means unbounded.</summary>
    IReadOnlyList<Run> Read(string truck, DateTimeOffset? from = null, DateTimeOffset? to = null);

    /// <summary>The instant before which a truck's runs are settled, or null when none is.</summary>
    DateTimeOffset? SettledAt(string truck);

    /// <summary>In one transaction: drops the truck's runs that start at or after <paramref name="from"/>, adds <paramref name="runs"/>, and sets the settled instant.</summary>
    void Replace(string truck, DateTimeOffset from, IReadOnlyList<Run> runs, DateTimeOffset? settledAt);

    /// <summary>What the register said of the truck when its runs were last derived, as <see cref="NoteBasis"/> was given it; null where that is not known.</summary>
    string? BasisOf(string truck);

    /// <summary>Keeps what the register said of the truck when its runs were derived.</summary>
    void NoteBasis(string truck, string basis);
}
