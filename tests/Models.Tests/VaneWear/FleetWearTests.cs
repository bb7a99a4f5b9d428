using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

public sealed class FleetWearTests(ITestOutputHelper output)
{
    private static readonly WearOptions Exact = new() { RateWanderSd = 0 };

    [Fact]
    public void Forecast_FromFitting_RecoversTheRate()
    {
        var forecast = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.6 }, 300);

        Assert.Equal(ForecastStatus.Forecast, forecast.Status);
        Assert.InRange(0.6, forecast.WearPer1000H!.Value - (2.6 * forecast.WearPer1000HSe!.Value), forecast.WearPer1000H.Value + (2.6 * forecast.WearPer1000HSe.Value));
        var truth = 0.6 * forecast.HoursSinceFitting / 1000;
        Assert.InRange(truth, forecast.Wear!.Low - 0.05, forecast.Wear.High + 0.05);
        Assert.True(forecast.Wear.High - forecast.Wear.Low < 0.15);
        Assert.Equal(forecast.Checks.Length, forecast.Observations);
        Assert.All(forecast.Checks.Where(c => c.HoursSinceFitting <= 150), c => Assert.True(c.IsBaseline));
        Assert.All(forecast.Checks.Where(c => c.HoursSinceFitting > 150), c => Assert.False(c.IsBaseline));
    }

    [Fact]
    public void Forecast_Fan_IsInOrderAndReachesTheLimit()
    {
        var forecast = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.6 }, 300);

        Assert.Equal(forecast.Fan.OrderBy(p => p.At), forecast.Fan);
        Assert.All(forecast.Fan, p => Assert.True(p.Low <= p.Mid && p.Mid <= p.High));
        Assert.Contains(forecast.Fan, p => p.At == forecast.AsOf);
        Assert.True(forecast.Fan[^1].At >= forecast.DateOfLimit!.P90);

        // At the median date of the limit the fan's middle stands at about 1.
        var near = forecast.Fan.MinBy(p => Math.Abs((p.At - forecast.DateOfLimit.P50!.Value).TotalDays))!;
        Assert.InRange(near.Mid, 0.93, 1.07);
    }

    [Fact]
    public void Forecast_DatesAndHours_AgreeThroughUsage()
    {
        var forecast = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.6 }, 300);
        var days = (forecast.DateOfLimit!.P50!.Value - forecast.AsOf).TotalDays;

        // Weeks of 5 days, 6 runs of 0.75 h in the mean.
        Assert.Equal(6 * 0.75 * 5 / 7, forecast.HoursPerDay!.Value, 0.3);
        Assert.InRange(days, forecast.HoursToLimit!.P50!.Value / forecast.HoursPerDay.Value * 0.95, (forecast.HoursToLimit.P50.Value / forecast.HoursPerDay.Value * 1.05) + 7);
    }

    [Fact]
    public void Forecast_WithoutEarlyChecks_IsProvisionalAndWider()
    {
        // Three weeks, so that the line itself does not lead back to the flow as new.
        var young = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.6 }, 21);
        var old = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.6, AgeAtStartH = 600, FlowFactor = 0.93 }, 21);

        Assert.Equal(ForecastStatus.Provisional, old.Status);
        output.WriteLine($"young {young.Wear}, old {old.Wear}");
        Assert.True(old.Wear!.High - old.Wear.Low > 3 * (young.Wear!.High - young.Wear.Low));
        Assert.DoesNotContain(old.Checks, c => c.IsBaseline);
    }

    [Fact]
    public void Forecast_WithPeersBaselines_IsCloserThanTheNameplate()
    {
        var peers = Enumerable.Range(1, 4).Select(i => new SyntheticTruck { Id = $"T{i}", WearPer1000H = 0.4 }).ToList();
        var late = new SyntheticTruck { Id = "T9", WearPer1000H = 0.4, AgeAtStartH = 700 };
        var data = new SyntheticFleet([.. peers, late], 21, 5).Data();
        var withPeers = new FleetWear(Exact).Forecast(data, 1, CancellationToken.None)[^1].Forecast;
        var alone = One(late, 21);

        Assert.Equal(ForecastStatus.Provisional, withPeers.Status);
        output.WriteLine($"peers {withPeers.Wear} alone {alone.Wear}");
        Assert.True(withPeers.Wear!.High - withPeers.Wear.Low < 0.6 * (alone.Wear!.High - alone.Wear.Low));
        Assert.InRange(0.4 * withPeers.HoursSinceFitting / 1000, withPeers.Wear.Low - 0.1, withPeers.Wear.High + 0.1);
    }

    [Fact]
    public void Forecast_AfterARebuild_CarriesTheBaselineOver()
    {
        var rebuiltAt = SyntheticFleet.Begin.AddDays(150);
        var meterH = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 300, 3).RunsOf("T1").Last(r => r.Start < rebuiltAt).MeterEndH!.Value;
        var rebuild = new ServiceRecord { At = rebuiltAt, Truck = "T1", MeterH = meterH, Kind = ServiceKind.Rebuild };
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1", Records = [rebuild] }], 300, 3);

        // The first checks after the rebuild are taken away, so that the new life has no baseline of its own.
        var runs = fleet.RunsOf("T1").Select(r => r.Start >= rebuiltAt && r.Start < rebuiltAt.AddDays(60) ? r with { FirstPumpDown = null } : r).ToList();
        var data = FleetData.Build([fleet.Model], fleet.Trucks, fleet.Records, _ => runs, fleet.End);
        var forecast = Assert.Single(new FleetWear(Exact).Forecast(data, 1, CancellationToken.None)).Forecast;

        Assert.Equal(2, data.Pumps.Length);
        Assert.Equal(ForecastStatus.Forecast, forecast.Status);
        Assert.Contains(forecast.Remarks, r => r.Contains("earlier life", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(-0.3)]
    public void Forecast_NoOrNegativeWear_IsNotReached(double rate)
    {
        var forecast = One(new SyntheticTruck { Id = "T1", WearPer1000H = rate }, 300);

        Assert.Equal(ForecastStatus.NotReached, forecast.Status);
        Assert.Null(forecast.HoursToLimit!.P50);
        Assert.Null(forecast.HoursToLimit.P90);
        Assert.Null(forecast.DateOfLimit!.P90);
        Finite(forecast);
    }

    [Fact]
    public void Forecast_FastWear_IsAtZeroHours()
    {
        var forecast = One(new SyntheticTruck { Id = "T1", WearPer1000H = 2 }, 300);
        Assert.Equal(0, forecast.HoursToLimit!.P50);
        Assert.Equal(forecast.AsOf, forecast.DateOfLimit!.P50);
        Assert.True(forecast.Wear!.Low > 1);
    }

    [Theory]
    [InlineData(0, ForecastStatus.NoChecks)]
    [InlineData(1, ForecastStatus.TooFewChecks)]
    [InlineData(4, ForecastStatus.TooFewChecks)]
    public void Forecast_FewChecks_SaysSo(int checks, ForecastStatus status)
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 30, 1);
        var left = checks;
        var runs = fleet.RunsOf("T1").Select(r => r.FirstPumpDown is not null && left-- <= 0 ? r with { FirstPumpDown = null } : r).ToList();
        var data = FleetData.Build([fleet.Model], fleet.Trucks, [], _ => runs, fleet.End);
        var result = Assert.Single(new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None));

        Assert.Equal(status, result.Forecast.Status);
        Assert.Null(result.Forecast.Wear);
        Assert.Null(result.Forecast.HoursToLimit);
        Assert.Null(result.Fit);
        Assert.Equal(checks, result.Forecast.Checks.Length);
        Assert.NotEmpty(result.Forecast.Remarks);
    }

    [Fact]
    public void Forecast_TruckWithoutRuns_HasNoChecks()
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 30, 1);
        var data = FleetData.Build([fleet.Model], fleet.Trucks, [], _ => [], fleet.End);
        var forecast = Assert.Single(new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None)).Forecast;
        Assert.Equal(ForecastStatus.NoChecks, forecast.Status);
        Assert.Equal(0, forecast.HoursSinceFitting);
        Assert.Null(forecast.HoursPerDay);
    }

    [Fact]
    public void Forecast_SomeWildChecks_MoveItLittle()
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1", WearPer1000H = 0.6 }], 300, 1);
        var n = 0;
        Run Spoil(Run r) => r.FirstPumpDown is { } d && n++ % 15 == 7
            ? r with { FirstPumpDown = d with { NetFlowPerVolumePerS = d.NetFlowPerVolumePerS * 0.7 } }
            : r;
        var wild = fleet.RunsOf("T1").Select(Spoil).ToList();
        var clean = Forecast(fleet, fleet.RunsOf("T1"));
        var spoiled = Forecast(fleet, wild);

        Assert.Equal(clean.Wear!.Mid, spoiled.Wear!.Mid, 0.05);
        Assert.Contains(spoiled.Remarks, r => r.Contains("far off", StringComparison.Ordinal));
    }

    [Fact]
    public void Forecast_SameSeed_SameAnswer()
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }, new SyntheticTruck { Id = "T2" }], 100, 1);
        var a = new FleetWear(Exact).Forecast(fleet.Data(), 7, CancellationToken.None);
        var b = new FleetWear(Exact).Forecast(fleet.Data(), 7, CancellationToken.None);

        Assert.Equal(a[0].Forecast.HoursToLimit, b[0].Forecast.HoursToLimit);
        Assert.Equal(a[1].Forecast.DateOfLimit, b[1].Forecast.DateOfLimit);

        // A truck that says nothing of wear changes nothing of the others.
        var more = new SyntheticFleet([new SyntheticTruck { Id = "T0" }, new SyntheticTruck { Id = "T1" }, new SyntheticTruck { Id = "T2" }], 100, 1);
        var silent = FleetData.Build([more.Model], more.Trucks, [], id => id == "T0" ? [] : fleet.RunsOf(id), fleet.End);
        var c = new FleetWear(Exact).Forecast(silent, 7, CancellationToken.None);
        Assert.Equal(a[0].Forecast.HoursToLimit, c[1].Forecast.HoursToLimit);
    }

    /// <summary>
    /// Baselines, tightness as new, wear at fitting, the flow lost at the limit, rates, their wander and the noise drawn from what the options state, half of the pumps seen from new and half from mid-life on:
    /// the 80 % intervals of wear now and of hours to the limit must cover within 99.9 % limits of a binomial.
    /// </summary>
    [Theory]
    [InlineData(0.0, true)]
    [InlineData(0.2, true)]
    [InlineData(0.2, false)]
    public void Intervals_CoverAtEightyPercent_UnderTheirAssumptions(double wanderSd, bool hasTightness)
    {
        const int pumps = 300;
        var options = new WearOptions { RateWanderSd = wanderSd, HorizonH = 1e9 };
        var random = new Random(42);
        var runs = new Dictionary<string, List<Run>>(StringComparer.Ordinal);
        var trucks = new List<SyntheticTruck>();
        var truths = new Dictionary<string, (double Now, double LeftH)>(StringComparer.Ordinal);
        for (var i = 0; i < pumps; i++)
        {
            var id = $"T{i:D3}";
            var asNew = 0.93 * 0.2 / 12 * Math.Exp(Normal.Sample(random, 0, 0.05));
            var tight = 0.95 * Math.Exp(Normal.Sample(random, 0, 0.01));
            var fromH = i % 2 == 0 ? 2 : 300 + (400 * random.NextDouble());
            var nowH = fromH + 200 + (300 * random.NextDouble());
            var log = Math.Log(0.0006) + Normal.Sample(random, 0, 0.25);
            var (wear, hoursH) = (Normal.Sample(random, 0, 0.03), 0.0);

            // Its model's and its own, as if each pump were of another model: one model's draw for all would be luck.
            var loss = 0.28 * Math.Exp(Normal.Sample(random, 0, options.LossAtLimitSd * Math.Sqrt(2)));
            var own = runs[id] = [];
            while (own.Count == 0 || hoursH < nowH)
            {
                Go(5);
                if (hoursH >= fromH)
                {
                    var kept = 1 - (loss * wear);
                    own.Add(CheckRuns.At(hoursH, asNew * kept * Math.Exp(Normal.Sample(random, 0, 0.015)), asNew * 0.01, hasTightness ? tight * kept * Math.Exp(Normal.Sample(random, 0, 0.01)) : null) with { Truck = id });
                }
            }

            var now = wear;
            var sinceH = hoursH;
            while (wear < 1)
            {
                Go(5);
            }

            truths[id] = (now, Math.Max(0, hoursH - sinceH));
            trucks.Add(new SyntheticTruck { Id = id });

            void Go(double stepH)
            {
                wear += Math.Exp(log) * stepH;
                hoursH += stepH;
                log += Normal.Sample(random, 0, wanderSd * Math.Sqrt(stepH / 1000));
            }
        }

        var fleet = new SyntheticFleet([.. trucks], 7, 1);
        var data = FleetData.Build([fleet.Model], fleet.Trucks, [], id => runs[id], runs.Values.Max(r => r[^1].End).AddDays(1));
        var forecasts = new FleetWear(options).Forecast(data, 1, CancellationToken.None).Select(r => r.Forecast).Where(f => truths[f.Truck].Now < 1).ToList();
        var byWear = forecasts.Average(f => f.Wear!.Low <= truths[f.Truck].Now && truths[f.Truck].Now <= f.Wear.High ? 1.0 : 0);
        var byHours = forecasts.Average(f => f.HoursToLimit!.P10 <= truths[f.Truck].LeftH - 1 && truths[f.Truck].LeftH - 1 <= f.HoursToLimit.P90 ? 1.0 : 0);
        var half = 3.29 * Math.Sqrt(0.8 * 0.2 / forecasts.Count);
        output.WriteLine($"{forecasts.Count} pumps, wear now {byWear:P1}, hours {byHours:P1}, limits {0.8 - half:P1} to {0.8 + half:P1}");
        Assert.True(forecasts.Count > 200);
        Assert.InRange(byWear, 0.8 - half, 0.8 + half);
        Assert.InRange(byHours, 0.8 - half, 0.8 + half);
    }

    /// <summary>Something grows in the flow's way, as tight as ever: it takes from the displaced flow alone and is no wear.</summary>
    [Fact]
    public void BlockageThatGrows_IsNotReadAsWear()
    {
        var peers = Enumerable.Range(1, 6).Select(i => new SyntheticTruck { Id = $"T{i}", WearPer1000H = 0.4 });
        var fleet = new SyntheticFleet([.. peers, new SyntheticTruck { Id = "T9", WearPer1000H = 0.4, BlockageFault = day => 0.06 * Math.Clamp((day - 60) / 120, 0, 1) }], 240, 5);
        var forecasts = new FleetWear(new WearOptions()).Forecast(fleet.Data(), 1, CancellationToken.None).Select(r => r.Forecast).ToList();
        var blocked = forecasts[^1];
        output.WriteLine($"{forecasts[0].Wear} {blocked.Wear} {blocked.Steps.Length}");

        // Six of a hundred of the flow would be 0.21 of wear.
        Assert.Equal(forecasts[0].Wear!.Mid, blocked.Wear!.Mid, 0.06);
    }

    /// <summary>Lives of known course, some past their limit: the speed-up that they were made with is likelier than none, and pumps not yet there are forecast sooner for it.</summary>
    [Fact]
    public void LateSpeedUp_IsLearned()
    {
        var random = new Random(3);
        var plain = ForecastAtSixTenths(0);
        var late = ForecastAtSixTenths(3);

        // From 0.6: 0.4 of steady wear, or 0.15 and ln(1 + 3/4)/3 = 0.187.
        output.WriteLine($"plain {plain}, late {late}");
        Assert.InRange(late.P50!.Value / plain.P50!.Value, 0.72, 0.95);

        HourQuantiles ForecastAtSixTenths(double speedUp)
        {
            var curve = new LateCurve(speedUp);
            var runs = new Dictionary<string, List<Run>>(StringComparer.Ordinal);
            for (var i = 0; i < 21; i++)
            {
                var rate = 0.001 * Math.Exp(Normal.Sample(random, 0, 0.1));
                var toH = i == 0 ? 0.6 / rate : curve.Inverse(1.15) / rate;
                runs[$"T{i:D2}"] = [];
                for (var h = 2.0; h < toH; h += 5)
                {
                    var kept = 1 - (0.28 * curve.At(rate * h).Wear);
                    runs[$"T{i:D2}"].Add(CheckRuns.At(h, 0.93 * 0.2 / 12 * kept * Math.Exp(Normal.Sample(random, 0, 0.015)), 0.0002, 0.95 * kept * Math.Exp(Normal.Sample(random, 0, 0.01))) with { Truck = $"T{i:D2}" });
                }
            }

            var fleet = new SyntheticFleet([.. runs.Keys.Select(id => new SyntheticTruck { Id = id })], 7, 1);
            var data = FleetData.Build([fleet.Model], fleet.Trucks, [], id => runs[id], runs.Values.Max(r => r[^1].End).AddDays(1));
            return new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None)[0].Forecast.HoursToLimit!;
        }
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(-0.01)]
    [InlineData(0)]
    public void Checks_WithoutAFlow_AreLeftOut(double flow)
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 100, 1);
        var runs = fleet.RunsOf("T1").Select(r => r.FirstPumpDown is { } d ? r with { FirstPumpDown = d with { NetFlowPerVolumePerS = flow } } : r).ToList();
        var data = FleetData.Build([fleet.Model], fleet.Trucks, [], _ => runs, fleet.End);
        Assert.Equal(ForecastStatus.NoChecks, Assert.Single(new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None)).Forecast.Status);
    }

    [Fact]
    public void Chances_RiseToTheDatesOfTheForecast()
    {
        var forecast = One(new SyntheticTruck { Id = "T1", WearPer1000H = 0.6 }, 300);
        Assert.Equal(forecast.Chances.OrderBy(c => c.Probability), forecast.Chances);
        Assert.Equal(27 + 20, forecast.Chances.Length);
        Assert.All(forecast.Chances, c => Assert.InRange(c.Failure, 0, c.Probability));
        Assert.Equal(forecast.Chances.Select(c => c.Failure).Order(), forecast.Chances.Select(c => c.Failure));
        Assert.All(forecast.Chances, c => Assert.InRange(c.Probability, 0, 1));
        Assert.All(forecast.Chances.Where(c => c.At <= forecast.DateOfLimit!.P10), c => Assert.True(c.Probability <= 0.1));
        Assert.All(forecast.Chances.Where(c => c.At >= forecast.DateOfLimit!.P90), c => Assert.True(c.Probability >= 0.9));
    }

    private static WearForecast One(SyntheticTruck truck, int days)
    {
        var fleet = new SyntheticFleet([truck], days, 11);
        return Forecast(fleet, fleet.RunsOf(truck.Id));
    }

    private static WearForecast Forecast(SyntheticFleet fleet, IReadOnlyList<Run> runs)
    {
        var data = FleetData.Build([fleet.Model], fleet.Trucks, fleet.Records, _ => runs, fleet.End);
        return new FleetWear(Exact).Forecast(data, 1, CancellationToken.None)[^1].Forecast;
    }

    private static void Finite(WearForecast forecast)
    {
        Assert.True(double.IsFinite(forecast.Wear!.Low + forecast.Wear.Mid + forecast.Wear.High + forecast.WearPer1000H!.Value + forecast.WearPer1000HSe!.Value));
        Assert.All(forecast.Fan, p => Assert.True(double.IsFinite(p.Low + p.Mid + p.High + p.HoursSinceFitting)));
        Assert.All(forecast.Checks, c => Assert.True(double.IsFinite(c.FlowKept + c.FlowKeptSe + c.Wear + c.WearSe)));
    }
}
