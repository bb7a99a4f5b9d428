using Vanehour.Models.Indicators;

namespace Vanehour.Models.TemperatureRise;

/// <summary>How restless the pump temperature is under vacuum, K: the sign of liquid that comes past the float shut-offs. It depends on the pump's sensor alone.</summary>
public static class TemperatureHuntingIndicator
{
    /// <summary>The indicator, with what matters of it.</summary>
    public static IndicatorDefinition Define(ShiftOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return new IndicatorDefinition
        {
            Indicator = Indicator.TemperatureHunting,
            Name = "restlessness of the pump temperature under vacuum",
            Unit = "K",
            Seen = run => run.TempHuntingK,
            Weight = _ => 1,
            Predictors = [],
            MattersFrom = expected => Math.Max(options.LeastHuntingK, options.HuntingShare * expected),
        };
    }
}
