using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>A held-out run beside what a candidate predicted, in the indicator's unit.</summary>
/// <param name="Observation">The run.</param>
/// <param name="Residual">Seen less predicted, with the pump's own level.</param>
/// <param name="PeersResidual">Seen less predicted for the pump model.</param>
/// <param name="Sd">Standard deviation of the residual: noise by the run's weight, and the level's error.</param>
internal sealed record HeldOutRun(IndicatorObservation Observation, double Residual, double PeersResidual, double Sd)
{
    /// <summary>What a band is set by.</summary>
    public double Score => Math.Abs(Residual) / Sd;
}
