using Vanehour.Models.Indicators;

namespace Vanehour.Models.TemperatureRise;

/// <summary>
/// Pump over ambient temperature once warm, K. A long run's mean is only so much better than a short one's, because the conditions of the job
/// dominate; the weight levels off at 1 for it (half of that at half an hour, a value of our own).
/// </summary>
public static class TemperatureRiseIndicator
{
    private const double HalfWeightH = 0.5;

    /// <summary>The indicator, with what matters of it.</summary>
    public static IndicatorDefinition Define(ShiftOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return new IndicatorDefinition
        {
            Indicator = Indicator.TemperatureRise,
            Name = "temperature rise",
            Unit = "K",
            Seen = run => run.TempRiseK,
            Weight = run => run.HoursH / (run.HoursH + HalfWeightH),
            Predictors =
            [
                new Predictor("vacuum", "kPa", run => run.VacuumMeanKPa),
                new Predictor("speed", "rpm", run => run.SpeedMeanRpm),

                // Not the ambient temperature: by Newton's law of cooling the rise does not depend on it, and over a season a fault that grows would be taken for its slope.
                // A run that stops while the pump still warms up has seen less of the rise.
                new Predictor("log of hours", "1", run => Math.Log(run.HoursH)),
            ],
            MattersFrom = _ => options.TemperatureRiseK,
        };
    }
}
