using System.Text.Json.Serialization;

namespace Vanehour.Models.VaneWear;

/// <summary>One start-up check as an observation of wear.</summary>
/// <param name="At">When the check started.</param>
/// <param name="HoursSinceFitting">PTO hours of the life, h.</param>
/// <param name="FlowKept">Net flow at the reference vacuum and rated speed over the same as new; 1 = as new.</param>
/// <param name="FlowKeptSe">Its standard error, without that of the baseline.</param>
/// <param name="Wear">(1 - flow kept)/(1 - limit), once steps were taken out.</param>
/// <param name="WearSe">Its standard error.</param>
/// <param name="PlateauKPa">Where the rise ended, kPa below ambient.</param>
/// <param name="EndedAtRelief">Whether that was the relief valve.</param>
/// <param name="WatchTime5To12InHgS">Seconds from 5 to 12 inHg, or null.</param>
/// <param name="IsBaseline">Whether it helped to set the baseline.</param>
public sealed record WearObservation(
    DateTimeOffset At,
    double HoursSinceFitting,
    double FlowKept,
    double FlowKeptSe,
    double Wear,
    double WearSe,
    [property: JsonPropertyName("plateau_kpa")] double PlateauKPa,
    bool EndedAtRelief,
    [property: JsonPropertyName("watch_time_5_to_12_inhg_s")] double? WatchTime5To12InHgS,
    bool IsBaseline);
