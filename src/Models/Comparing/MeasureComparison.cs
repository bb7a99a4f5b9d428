using System.Collections.Immutable;

namespace Vanehour.Models.Comparing;

/// <summary>Pump models compared by one measure.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Models">Each model, in order of name.</param>
/// <param name="Pairs">Each pair.</param>
/// <param name="Remarks">How it was done, in sentences.</param>
public sealed record MeasureComparison(ComparedMeasure Measure, ImmutableArray<ModelMeasure> Models, ImmutableArray<MeasurePair> Pairs, ImmutableArray<string> Remarks);
