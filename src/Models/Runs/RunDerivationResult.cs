using System.Collections.Immutable;

namespace Vanehour.Models.Runs;

/// <summary>What a derivation of runs did.</summary>
public sealed record RunDerivationResult
{
    /// <summary>The trucks whose runs were derived, in order of id.</summary>
    public required ImmutableArray<string> Derived { get; init; }

    /// <summary>Those among them whose earlier runs were derived again because the register (or a rule of the derivation) says something else of that time now.</summary>
    public ImmutableArray<string> DerivedAgain { get; init; } = [];

    /// <summary>Trucks that are heard and not registered: passed over until they are, in order of id.</summary>
    public required ImmutableArray<string> NotRegistered { get; init; }

    /// <summary>How many samples were read, those read again to know what held before included.</summary>
    public required long SamplesRead { get; init; }

    /// <summary>How many runs were written, those written again included.</summary>
    public required int RunsWritten { get; init; }
}
