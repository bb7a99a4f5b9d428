using Vanehour.Models.VaneWear;
using Vanehour.Reports.Time;

namespace Vanehour.Reports.Words;

/// <summary>A wear forecast in plain words.</summary>
internal static class ForecastWords
{
    /// <summary>The state of the forecast in a few words, or null where there is nothing to say beside the numbers.</summary>
    public static string? State(WearForecast? wear) => wear?.Status switch
    {
        null => "no forecast yet",
        ForecastStatus.NoChecks => "no start-up checks",
        ForecastStatus.TooFewChecks => $"too few checks ({NumberWords.Whole(wear.Observations)})",
        ForecastStatus.NotReached => "limit not in sight",
        ForecastStatus.Provisional => "provisional",
        _ => null,
    };

    /// <summary>Why there is nothing to draw, or null where there is.</summary>
    public static string? NothingToDraw(WearForecast? wear) => wear?.Status switch
    {
        null => "No wear forecast: the analysis has not covered this truck yet.",
        ForecastStatus.NoChecks => "No start-up check in this pump's life, so vane wear can't be read.",
        ForecastStatus.TooFewChecks => $"Too few start-up checks to fit wear ({NumberWords.Whole(wear.Observations)} so far).",
        _ => null,
    };

    /// <summary>The quantiles of the date of the limit in one sentence, whichever of them are known.</summary>
    public static string Limit(WearForecast wear, TimeScale time)
    {
        if (wear.DateOfLimit is not { } date || date is { P10: null, P50: null, P90: null })
        {
            return wear.Status == ForecastStatus.NotReached ? "The wear limit is not reached within the forecast horizon."
                : wear.HoursToLimit?.P50 is { } hours && double.IsFinite(hours) ? $"Wear limit{Kind(wear)}: {InHours(hours)}; no date, since the truck's usage is not known."
                : "There is no date for the wear limit yet.";
        }

        (string Chance, DateTimeOffset? At)[] quantiles = [("10 %", date.P10), ("50 %", date.P50), ("90 %", date.P90)];
        var passed = quantiles.LastOrDefault(q => q.At <= time.AsOf).Chance;
        var ahead = quantiles.Where(q => q.At > time.AsOf).Select((q, i) => $"{q.Chance}{(i == 0 ? " chance" : string.Empty)} by {Date(q.At, time)}").ToList();
        var unknown = quantiles.Where(q => q.At is null).Select(q => q.Chance).ToList();
        var parts = new List<string>();
        if (ahead.Count > 0)
        {
            parts.Add(string.Join(", ", ahead));
        }

        if (unknown.Count > 0)
        {
            parts.Add(string.Join(" and ", unknown) + ": beyond the horizon");
        }

        var rest = string.Join("; ", parts);
        return passed is null ? $"Wear limit{Kind(wear)}: {rest}."
            : $"Wear limit{Kind(wear)}: {(passed == "50 %" ? "most likely" : $"with {passed} chance or more")} passed already{(rest.Length == 0 ? string.Empty : "; " + rest)}.";
    }

    private static string Kind(WearForecast wear) => wear.Status == ForecastStatus.Provisional ? " (provisional)" : string.Empty;

    private static string InHours(double hours) => hours <= 0 ? "most likely passed already" : $"50 % chance within {NumberWords.Whole(hours)} PTO h";

    /// <summary>A quantile of the date, in words where it lies beyond the horizon.</summary>
    public static string Date(DateTimeOffset? at, TimeScale time) => at switch
    {
        null => "beyond horizon",
        { } date when date <= time.AsOf => "now",
        { } date => DateWords.Day(time.LocalOf(date)),
    };
}
