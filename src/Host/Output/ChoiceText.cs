using System.Globalization;
using Vanehour.Models.Expectations;

namespace Vanehour.Host.Output;

/// <summary>A choice in words, for the table of models.</summary>
public static class ChoiceText
{
    /// <summary>Why, and every candidate's mean absolute error on runs held out with its standard error; null without a choice.</summary>
    public static string? Of(ModelChoice? choice) => choice is null
        ? null
        : choice.Reason + string.Concat(choice.Scores.Select((s, i) => string.Create(
            CultureInfo.InvariantCulture, $"{(i == 0 ? " Errors: " : "; ")}{s.Kind} {s.MeanAbsoluteError:G3} ({s.MeanAbsoluteErrorSe:G2})")))
            + (choice.Scores.IsEmpty ? string.Empty : string.Create(CultureInfo.InvariantCulture, $" {choice.Unit}, {choice.Runs} runs of {choice.Trucks} trucks."));

    /// <summary>How the band of a pump model was set and what it held; null without a choice.</summary>
    public static string? OfBand(ModelChoice? choice, string pumpModel) => choice?.Bands.FirstOrDefault(b => b.PumpModel == pumpModel) switch
    {
        null => null,
        { HalfWidthSd: { } half } b => string.Create(
            CultureInfo.InvariantCulture,
            $"{b.Level:P0} by {half:0.00} sd of {b.CalibrationRuns} runs held out{(b.HoldOutCoverage is { } share ? $"; {share:P1} of them inside ({b.HoldOutCoverageSe:P1})" : string.Empty)}"),
        { } b => string.Create(CultureInfo.InvariantCulture, $"{b.Level:P0} by the t distribution"),
    };
}
