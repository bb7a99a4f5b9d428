namespace Vanehour.Models.Analysis;

/// <summary>Where an analysis is.</summary>
/// <param name="Step">The step, in a few words.</param>
/// <param name="Done">Steps done.</param>
/// <param name="Of">Steps in all.</param>
public sealed record AnalysisProgress(string Step, int Done, int Of);
