using System.Collections.Immutable;
using Vanehour.Models;
using Vanehour.Models.Regression;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>Holds forecasts of the wear limit against when it came, or would have come.</summary>
public static class ForecastScorer
{
    private static readonly double[] AheadH = [100, 200, 400];

    // A forecast counts for a distance that it misses by no more than this share.
    private const double Within = 0.15;

    /// <summary>Scores: of each life one forecast for each distance, the nearest to it.</summary>
    public static ImmutableArray<ForecastScore> Score(FleetTruth truth, ReplayResult replay)
    {
        ArgumentNullException.ThrowIfNull(truth);
        ArgumentNullException.ThrowIfNull(replay);
        var forecasts = replay.Forecasts.Where(f => f.HoursToLimit is not null).ToLookup(f => (f.Truck, f.PumpSerial));
        return [.. AheadH.Select(Of)];

        ForecastScore Of(double aheadH)
        {
            var rows = truth.Lives.Where(l => l.LimitAtH > aheadH).Select(life => (life, Forecast: forecasts[(life.Truck, life.PumpSerial)]
                .Where(f => f.AsOf >= life.FittedAt && !(life.RemovedAt < f.AsOf))
                .Select(f => (Left: life.LimitAtH!.Value - f.HoursSinceFitting, Forecast: f.HoursToLimit!))
                .Where(f => Math.Abs(f.Left - aheadH) <= Within * aheadH)
                .OrderBy(f => Math.Abs(f.Left - aheadH))
                .Cast<(double Left, HourQuantiles Forecast)?>()
                .FirstOrDefault())).Where(r => r.Forecast is not null).ToList();
            var trucks = rows.Select(r => r.life.Truck).Distinct(StringComparer.Ordinal).ToList();
            var errors = rows.Where(r => r.Forecast!.Value.Forecast.P50 is not null).Select(r => Math.Abs(r.Forecast!.Value.Forecast.P50!.Value - r.Forecast.Value.Left) / r.Forecast.Value.Left).ToList();
            return new ForecastScore(
                aheadH,
                rows.Count,
                TruckResampling.Interval(
                    [.. trucks.Select(t => (double)rows.Count(r => r.life.Truck == t && Covers(r.Forecast!.Value)))],
                    [.. trucks.Select(t => (double)rows.Count(r => r.life.Truck == t))]),
                errors.Count == 0 ? null : Robust.Median(errors));
        }
    }

    // Beyond the horizon is later than anything.
    private static bool Covers((double Left, HourQuantiles Forecast) row) =>
        (row.Forecast.P10 ?? double.MaxValue) <= row.Left && row.Left <= (row.Forecast.P90 ?? double.MaxValue);
}
