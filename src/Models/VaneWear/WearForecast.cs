using System.Collections.Immutable;
using System.Text.Json.Serialization;

namespace Vanehour.Models.VaneWear;

/// <summary>The wear of the pump on one truck now, and when it reaches its limit. What does not exist or lies beyond the horizon is null.</summary>
public sealed record WearForecast
{
    public required string Truck { get; init; }

    public required string PumpSerial { get; init; }

    public required string PumpModel { get; init; }

    public required DateTimeOffset AsOf { get; init; }

    /// <summary>PTO hours since the pump was fitted, h.</summary>
    public required double HoursSinceFitting { get; init; }

    /// <summary>Wear now: 10, 50 and 90 % quantiles; 1 is the limit.</summary>
    public LowMidHigh? Wear { get; init; }

    /// <summary>PTO hours from now to wear = 1.</summary>
    public HourQuantiles? HoursToLimit { get; init; }

    /// <summary>What <see cref="HoursToLimit"/> was made of; null with it.</summary>
    public LimitSource? LimitBy => HoursToLimit is null ? null : Learned is null ? LimitSource.WearCurve : LimitSource.WearCurveAndEndedLives;

    /// <summary>What lives that reached their limit added to <see cref="HoursToLimit"/>; null where it is the wear curve's alone.</summary>
    public LearnedShare? Learned { get; init; }

    /// <summary>The date of wear = 1 by the truck's own usage.</summary>
    public DateQuantiles? DateOfLimit { get; init; }

    /// <summary>How likely limit and failure are by now, by each week of half a year, and then every four weeks up to two years; empty without usage.</summary>
    public ImmutableArray<LimitChance> Chances { get; init; } = [];

    /// <summary>How many start-up checks and vane widths the fit used.</summary>
    public required int Observations { get; init; }

    public required ForecastStatus Status { get; init; }

    /// <summary>The flow kept at which wear is 1.</summary>
    public required double FlowKeptLimit { get; init; }

    /// <summary>Wear per 1 000 PTO hours, or null without a fit.</summary>
    [JsonPropertyName("wear_per_1000h")]
    public double? WearPer1000H { get; init; }

    /// <summary>Standard error of <see cref="WearPer1000H"/>; null with it.</summary>
    [JsonPropertyName("wear_per_1000h_se")]
    public double? WearPer1000HSe { get; init; }

    /// <summary>PTO hours per calendar day that turn hours into dates.</summary>
    public double? HoursPerDay { get; init; }

    /// <summary>Every start-up check of this life, in order of time.</summary>
    public required ImmutableArray<WearObservation> Checks { get; init; }

    /// <summary>Vane widths measured in this life, in order of hours.</summary>
    public ImmutableArray<VaneWidth> VaneWidths { get; init; } = [];

    /// <summary>To what share of its width the interval of hours to the limit would shrink by a vane width measured now; null where the model's widths are not registered.</summary>
    public double? WidthNarrowsTo { get; init; }

    /// <summary>Steps in flow kept, which the wear was cleared of, in order of time.</summary>
    public ImmutableArray<FlowStep> Steps { get; init; } = [];

    /// <summary>The fitted line and its projection, in order of time; empty without a fit.</summary>
    public required ImmutableArray<WearFanPoint> Fan { get; init; }

    /// <summary>What a reader should know of how this came about, in plain sentences.</summary>
    public required ImmutableArray<string> Remarks { get; init; }
}
