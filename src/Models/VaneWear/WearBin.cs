namespace Vanehour.Models.VaneWear;

/// <summary>Which of the two readings that a start-up check gives of wear.</summary>
internal enum WearChannel
{
    /// <summary>ln of net flow over gas volume, over that of the nameplate: flow kept, up to the truck's own tank volume, flow and gauge.</summary>
    NetFlow,

    /// <summary>ln of net flow over displaced flow at the reference vacuum, 1 - C v_r/(S (p_a - v_r)): tank volume, speed and gauge gain cancel.</summary>
    Tightness,
}

/// <summary>Some neighbouring start-up checks of one life taken together.</summary>
/// <param name="Channel">Which reading.</param>
/// <param name="HoursH">Their mean hours since fitting, h.</param>
/// <param name="Value">The reading.</param>
/// <param name="Sd">Its standard error by the scatter of the checks among themselves.</param>
/// <param name="AmbientC">Their mean ambient temperature, Cel; null where it is not known.</param>
/// <param name="StepsBefore">How many of the life's steps bear on it.</param>
internal readonly record struct WearBin(WearChannel Channel, double HoursH, double Value, double Sd, double? AmbientC, int StepsBefore);

/// <summary>A vane width measured in a life, as wear.</summary>
/// <param name="At">When.</param>
/// <param name="HoursH">Hours since fitting, h.</param>
/// <param name="WidthMm">As measured, mm.</param>
/// <param name="Wear">(new - width)/(new - limit).</param>
/// <param name="Sd">Its standard error.</param>
internal sealed record WidthReading(DateTimeOffset At, double HoursH, double WidthMm, double Wear, double Sd);
