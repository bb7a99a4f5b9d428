namespace Vanehour.Models.Expectations;

/// <summary>What a run of a pump model shows under given conditions, on average over its pumps.</summary>
internal interface IPopulation
{
    /// <summary>The prediction, in the indicator's unit; NaN for a pump model that it did not learn from and cannot do without.</summary>
    /// <param name="pumpModel">Position of the pump model.</param>
    /// <param name="x">The conditions; NaN where not measured.</param>
    double Predict(int pumpModel, double[] x);
}
