using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

/// <summary>A fleet whose vanes wear half as fast once they are half worn, which no curve of one pump foretells and the lives that ended show.</summary>
public sealed class LearnedLimitsTests(ITestOutputHelper output)
{
    private const int Running = 60;
    private const double NewMm = 50;
    private const double LimitMm = 44;

    [Fact]
    public void LivesThatReachedTheLimit_BringForecastsCloserToTheTruth_AndTheRangeHolds()
    {
        var (data, truth) = Fleet(40);
        var options = new WearOptions { HorizonH = 1e9 };
        var learned = Forecasts(data, options);
        var alone = Forecasts(data, options with { FewestEndedLives = int.MaxValue });

        Assert.All(alone, f => Assert.Equal((null, LimitSource.WearCurve), (f.Learned, f.LimitBy)));
        var near = learned.Where(f => f.Learned is not null).ToList();
        var (error, errorAlone) = (Error(near), Error([.. alone.Where(a => near.Any(n => n.Truck == a.Truck))]));
        var inside = near.Average(f => f.HoursToLimit!.P10 <= truth[f.Truck] && truth[f.Truck] <= f.HoursToLimit.P90 ? 1.0 : 0);
        output.WriteLine($"{near.Count} pumps, median error {error:F0} h, by the curve alone {errorAlone:F0} h; inside {inside:F2}");
        Assert.InRange(near.Count, 25, Running);
        Assert.All(near, f => Assert.Equal((40, LimitSource.WearCurveAndEndedLives), (f.Learned!.Lives, f.LimitBy)));
        Assert.Contains(near, f => f.Learned!.Weight > 0.3);
        Assert.True(error < 0.8 * errorAlone);
        Assert.InRange(inside, 0.8 - (3.29 * Math.Sqrt(0.16 / near.Count)), 1);

        foreach (var f in near)
        {
            // Hours, dates, chances and the fan are of one mind, and the forecast says what it was made of.
            Assert.True(f.HoursToLimit!.P10 <= f.HoursToLimit.P50 && f.HoursToLimit.P50 <= f.HoursToLimit.P90);
            var days = f.HoursToLimit.P50!.Value / f.HoursPerDay!.Value;
            Assert.InRange((f.DateOfLimit!.P50!.Value - f.AsOf).TotalDays, (0.95 * days) - 7, (1.05 * days) + 7);
            var atLimit = f.Fan.MinBy(p => Math.Abs((p.At - f.DateOfLimit.P50.Value).TotalDays))!;
            Assert.InRange(atLimit.Mid, 0.85, 1.15);
            Assert.Contains(f.Remarks, r => r.Contains(" 40 lives that reached it", StringComparison.Ordinal));
        }

        double Error(List<WearForecast> of) => of.Select(f => Math.Abs(f.HoursToLimit!.P50!.Value - truth[f.Truck])).Order().ElementAt(of.Count / 2);
    }

    [Fact]
    public void TooFewEndedLives_LeaveTheCurveAlone()
    {
        var (data, _) = Fleet(12);
        Assert.All(Forecasts(data, new WearOptions()), f => Assert.Null(f.Learned));
    }

    private static List<WearForecast> Forecasts(FleetData data, WearOptions options) =>
        [.. new FleetWear(options).Forecast(data, 1, CancellationToken.None).Select(r => r.Forecast).Where(f => f.Truck.StartsWith('R'))];

    // Ended lives were rebuilt at the limit with a width measured on arrival; running ones are cut off at random.
    private static (FleetData Data, Dictionary<string, double> LeftH) Fleet(int ended)
    {
        var random = new MersenneTwister(5);
        var runs = new Dictionary<string, List<Run>>(StringComparer.Ordinal);
        var records = new List<ServiceRecord>();
        var left = new Dictionary<string, double>(StringComparer.Ordinal);
        for (var i = 0; i < ended + Running; i++)
        {
            var isEnded = i < ended;
            var id = $"{(isEnded ? 'E' : 'R')}{i:D3}";
            var asNew = 0.93 * 0.2 / 12 * Math.Exp(Normal.Sample(random, 0, 0.05));
            var tight = 0.95 * Math.Exp(Normal.Sample(random, 0, 0.01));
            var rate = 0.0016 * Math.Exp(Normal.Sample(random, 0, 0.15));
            var limitH = (0.5 / rate) + (0.5 / (rate / 2));
            var nowH = isEnded ? limitH : limitH * (0.15 + (0.8 * random.NextDouble()));
            left[id] = limitH - nowH;
            runs[id] = [];
            for (var h = 2.0; h < nowH; h += 8)
            {
                var kept = 1 - (0.28 * Wear(h));
                runs[id].Add(CheckRuns.At(h, asNew * kept * Math.Exp(Normal.Sample(random, 0, 0.015)), asNew * 0.01, tight * kept * Math.Exp(Normal.Sample(random, 0, 0.01))) with { Truck = id });
            }

            if (isEnded)
            {
                var last = runs[id][^1];
                Record(last.End.AddHours(1), ServiceKind.VaneWidth, LimitMm + (0.1 * Normal.Sample(random, 0, 1)));
                Record(last.End.AddHours(2), ServiceKind.Rebuild, null);

                void Record(DateTimeOffset at, ServiceKind kind, double? mm) => records.Add(new ServiceRecord
                {
                    RecordId = $"{id}{kind}",
                    At = at,
                    Truck = id,
                    MeterH = last.MeterEndH!.Value,
                    Kind = kind,
                    Value = mm,
                    Unit = mm is null ? null : "mm",
                });
            }

            double Wear(double h) => Math.Min(rate * h, 0.5 + (rate / 2 * (h - (0.5 / rate))));
        }

        // Each running pump's last run is now.
        var end = runs.Values.Max(r => r[^1].End).AddDays(1);
        foreach (var (id, own) in runs.Where(r => r.Key.StartsWith('R')).ToList())
        {
            var late = end.AddDays(-1) - own[^1].End;
            runs[id] = own.ConvertAll(r => r with { Start = r.Start + late, End = r.End + late, FirstPumpDown = r.FirstPumpDown! with { Start = r.FirstPumpDown.Start + late } });
        }

        var fleet = new SyntheticFleet([.. runs.Keys.Select(id => new SyntheticTruck { Id = id })], 7, 1);
        var model = fleet.Model with { VaneWidthNew = Length.FromMillimetres(NewMm), VaneWidthLimit = Length.FromMillimetres(LimitMm) };
        return (FleetData.Build([model], fleet.Trucks, records, id => runs[id], end), left);
    }
}
