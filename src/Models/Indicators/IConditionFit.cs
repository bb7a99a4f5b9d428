namespace Vanehour.Models.Indicators;

/// <summary>What the conditions of a run make of an indicator, as <see cref="Judging"/> needs it; learned in one way or another.</summary>
internal interface IConditionFit
{
    /// <summary>How many predictors it reads.</summary>
    int Width { get; }

    int DegreesOfFreedom { get; }

    /// <summary>Standard deviation of a run of weight 1 of a pump.</summary>
    double ScaleOf(int pump);

    /// <summary>What it makes of the difference between two sets of conditions.</summary>
    double Explained(int pump, double[] x, double[] from);

    /// <summary>Variance of <see cref="Explained"/>.</summary>
    double ExplainedVariance(int pump, double[] x, double[] from);
}
