using System.Collections.Immutable;
using Vanehour.Models.Survival;

namespace Vanehour.Models.PumpLives;

/// <summary>How long the pumps of a model last.</summary>
public sealed record ModelLife
{
    public required string PumpModel { get; init; }

    /// <summary>Lives that could be used.</summary>
    public required int Lives { get; init; }

    /// <summary>Lives that ended with a failure.</summary>
    public required int Failures { get; init; }

    /// <summary>Lives that ended with a rebuild before a failure.</summary>
    public required int PlannedRebuilds { get; init; }

    /// <summary>Lives that ended because the pump was taken off.</summary>
    public required int Removed { get; init; }

    /// <summary>Lives that go on.</summary>
    public required int Running { get; init; }

    /// <summary>Lives whose records begin after their fitting.</summary>
    public required int LateEntries { get; init; }

    /// <summary>Lives left out because their records contradict each other.</summary>
    public required int LeftOut { get; init; }

    /// <summary>Median life by Kaplan-Meier, h; null where it is not reached.</summary>
    public required EstimateWithLimits MedianLifeH { get; init; }

    /// <summary>PTO hours by which 10 % have failed, by the Weibull distribution with profile-likelihood limits, h; null without one.</summary>
    public EstimateWithLimits? B10H { get; init; }

    /// <summary>Null where none could be fitted; <see cref="Remarks"/> say why.</summary>
    public WeibullSummary? Weibull { get; init; }

    /// <summary>Shape with profile-likelihood limits; null without a distribution.</summary>
    public EstimateWithLimits? Shape { get; init; }

    public ReplacementSummary? Replacement { get; init; }

    /// <summary>Hours from fitting to the wear limit by the forecasts of pumps that run now; null without an analysis or a forecast.</summary>
    public WearLife? ToWearLimit { get; init; }

    public required ImmutableArray<string> Remarks { get; init; }
}
