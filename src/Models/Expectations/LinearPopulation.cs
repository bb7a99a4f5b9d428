namespace Vanehour.Models.Expectations;

/// <summary>The mean of a pump model, with or without the slopes of least squares within pumps.</summary>
internal sealed class LinearPopulation(TrainingSet set, bool withSlopes) : IPopulation
{
    /// <inheritdoc/>
    public double Predict(int pumpModel, double[] x)
    {
        if (!set.Slopes.TryGetValue(pumpModel, out var slopes))
        {
            return double.NaN;
        }

        return withSlopes ? set.Levels[pumpModel] + TrainingSet.Dot(slopes, FleetRows.Filled(x, set.Means)) : set.PlainLevels[pumpModel];
    }
}
