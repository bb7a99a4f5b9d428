using Vanehour.Models.Indicators;

namespace Vanehour.Models.OilUse;

/// <summary>Oil used per PTO hour of a run, L/h. A run weighs as many hours as it has: the noise of a quotient by hours falls with them.</summary>
public static class OilUseIndicator
{
    /// <summary>The indicator, with what matters of it.</summary>
    public static IndicatorDefinition Define(ShiftOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return new IndicatorDefinition
        {
            Indicator = Indicator.OilUse,
            Name = "oil use",
            Unit = "L/h",
            Seen = run => run.OilRateLPerH,
            Weight = run => run.HoursH,
            Predictors =
            [
                new Predictor("vacuum", "kPa", run => run.VacuumMeanKPa),
                new Predictor("temperature rise", "K", run => run.TempRiseK),
                new Predictor("ambient temperature", "Cel", run => run.AmbientMeanC),
                new Predictor("speed", "rpm", run => run.SpeedMeanRpm),
            ],
            MattersFrom = expected => options.OilUseShare * Math.Max(Math.Abs(expected), 0.01),
        };
    }
}
