using Vanehour.Models;

namespace Vanehour.Bench;

/// <summary>One forecast of one life by one method, with what came.</summary>
/// <param name="Fleet">Which folder.</param>
/// <param name="Truck">The truck.</param>
/// <param name="Model">The pump model.</param>
/// <param name="Life">The life's number on the truck.</param>
/// <param name="AsOf">When it was made.</param>
/// <param name="LimitH">PTO hours since fitting at which the limit comes in truth, h.</param>
/// <param name="LeftH">PTO hours that were left in truth, h.</param>
/// <param name="WearNow">True wear, roughly: hours over hours at the limit.</param>
/// <param name="Group">How well the pump was known.</param>
/// <param name="Fault">Whether a fault bears on it.</param>
/// <param name="Forecast">The forecast.</param>
/// <param name="Wear">Wear now as estimated.</param>
/// <param name="Now">Wear and its rate now, in truth.</param>
/// <param name="Rate">Wear per 1 000 h now as estimated, and its standard error.</param>
/// <param name="DateCovered">Whether the 80 % range of the date held; null without a date.</param>
internal sealed record WearCase(
    int Fleet, string Truck, string Model, int Life, DateTimeOffset AsOf, double LimitH, double LeftH, double WearNow, WearGroup Group, FaultTime Fault, HourQuantiles Forecast, LowMidHigh? Wear,
    (double Wear, double PerThousandH)? Now = null, (double? PerThousandH, double? Se) Rate = default, bool? DateCovered = null)
{
    public bool Covered => (Forecast.P10 ?? double.MaxValue) <= LeftH && LeftH <= (Forecast.P90 ?? double.MaxValue);

    public bool Later => LeftH > (Forecast.P90 ?? double.MaxValue);

    /// <summary>Error of the median over what was left; past the horizon counts as all of it.</summary>
    public double RelativeError => Forecast.P50 is { } mid ? (mid - LeftH) / LeftH : 1;
}

/// <summary>How well a pump was known when it was forecast.</summary>
internal enum WearGroup
{
    /// <summary>Its first 150 hours were heard, or a vane width was measured in this life.</summary>
    Known,

    /// <summary>Neither.</summary>
    Rest,
}

/// <summary>When a fault of the truck that shortens life, or an injected faster wear, began.</summary>
internal enum FaultTime
{
    /// <summary>There is none.</summary>
    None,

    /// <summary>More than 100 PTO hours before the forecast.</summary>
    Before,

    /// <summary>Within the last 100 PTO hours before the forecast.</summary>
    Recent,

    /// <summary>After the forecast, before the limit.</summary>
    Later,
}
