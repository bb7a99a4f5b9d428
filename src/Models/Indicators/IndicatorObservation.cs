using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Indicators;

/// <summary>One run as an observation while an expectation is learned.</summary>
internal sealed class IndicatorObservation(int pump, Run run, double seen, double weight, double[] predictors)
{
    /// <summary>Position of the pump life it belongs to.</summary>
    public int Pump { get; } = pump;

    public Run Run { get; } = run;

    public double Seen { get; } = seen;

    public double Weight { get; } = weight;

    /// <summary>The predictors kept, those not measured filled with the pump's mean.</summary>
    public double[] Predictors { get; set; } = predictors;

    /// <summary>Whether it belongs to a lasting shift, which the fit leaves out.</summary>
    public bool IsShifted { get; set; }
}
