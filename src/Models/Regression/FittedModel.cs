using System.Collections.Immutable;

namespace Vanehour.Models.Regression;

/// <summary>A fit as listed and saved: what was fitted, on how much, and how well.</summary>
public sealed record FittedModel
{
    /// <summary>What it predicts, for example OilUse, TemperatureRise or VaneWear.</summary>
    public required string Name { get; init; }

    /// <summary>What it was fitted to: a pump model, or truck and pump serial.</summary>
    public required string Scope { get; init; }

    /// <summary>The method, in a few words.</summary>
    public required string Method { get; init; }

    public required FitStatus Status { get; init; }

    /// <summary>Observations used.</summary>
    public required int Observations { get; init; }

    /// <summary>Residual standard deviation for weight 1, in the unit of what is predicted; null without a fit.</summary>
    public double? ResidualScale { get; init; }

    /// <summary>R squared, weighted, about the mean; null without a fit.</summary>
    public double? RSquared { get; init; }

    public required ImmutableArray<Coefficient> Coefficients { get; init; }

    /// <summary>What was left out or doubted, in plain sentences.</summary>
    public required ImmutableArray<string> Warnings { get; init; }
}
