namespace Vanehour.Models.Indicators;

/// <summary>One run's indicator beside what was expected, in the indicator's unit.</summary>
/// <param name="At">The end of the run.</param>
/// <param name="HoursSinceFitting">PTO hours of the pump's life at the end of the run, h.</param>
/// <param name="RunHours">The weight of the run, h.</param>
/// <param name="Seen">What was measured.</param>
/// <param name="ExpectedLow">Lower end of the prediction interval, or null while the model is too young to judge.</param>
/// <param name="Expected">The expectation, or null likewise.</param>
/// <param name="ExpectedHigh">Upper end of the prediction interval, or null likewise.</param>
public sealed record IndicatorPoint(
    DateTimeOffset At,
    double HoursSinceFitting,
    double RunHours,
    double Seen,
    double? ExpectedLow,
    double? Expected,
    double? ExpectedHigh);
