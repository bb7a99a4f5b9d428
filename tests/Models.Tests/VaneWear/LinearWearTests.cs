using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

public sealed class LinearWearTests(ITestOutputHelper output)
{
    private static readonly WearOptions Exact = new() { RateChangeSd = 0 };

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
        var withPeers = new LinearWear(Exact).Forecast(data, 1, CancellationToken.None)[^1].Forecast;
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
        var forecast = Assert.Single(new LinearWear(Exact).Forecast(data, 1, CancellationToken.None)).Forecast;

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
        var result = Assert.Single(new LinearWear(new WearOptions()).Forecast(data, 1, CancellationToken.None));

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
        var forecast = Assert.Single(new LinearWear(new WearOptions()).Forecast(data, 1, CancellationToken.None)).Forecast;
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
        Assert.Contains(spoiled.Remarks, r => r.Contains("far off the line", StringComparison.Ordinal));
    }

    [Fact]
    public void Forecast_SameSeed_SameAnswer()
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }, new SyntheticTruck { Id = "T2" }], 100, 1);
        var alone = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 100, 1);
        var a = new LinearWear(Exact).Forecast(fleet.Data(), 7, CancellationToken.None);
        var b = new LinearWear(Exact).Forecast(fleet.Data(), 7, CancellationToken.None);
        var c = new LinearWear(Exact).Forecast(alone.Data(), 7, CancellationToken.None);

        Assert.Equal(a[0].Forecast.HoursToLimit, b[0].Forecast.HoursToLimit);
        Assert.Equal(a[1].Forecast.DateOfLimit, b[1].Forecast.DateOfLimit);
        Assert.Equal(a[0].Forecast.HoursToLimit, c[0].Forecast.HoursToLimit);
    }

    /// <summary>
    /// Straight wear, normal noise, baselines, wear at fitting and rates drawn at random: the model's assumptions hold, so the 80 % interval must
    /// cover within 99.9 % limits of a binomial. With the change of rate drawn too it must cover likewise when the option says so.
    /// </summary>
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.1)]
    public void HoursToLimit_CoversAtEightyPercent_UnderItsAssumptions(double rateChangeSd)
    {
        const int pumps = 400;
        var random = new Random(42);
        int covered = 0, below = 0, above = 0;
        var options = new WearOptions { RateChangeSd = rateChangeSd, HorizonH = 1e9, HorizonDays = 7, Draws = 1000 };
        for (var i = 0; i < pumps; i++)
        {
            var rate = 0.15 + (0.85 * random.NextDouble());
            var atFitting = Normal.Sample(random, 0, 0.03);
            var asNew = 0.01 * Math.Exp(Normal.Sample(random, 0, 0.2));
            var noise = 0.01 + (0.02 * random.NextDouble());
            var nowH = 200 + (600 * random.NextDouble());
            var runs = new List<Run>();
            for (var h = 2.0; h < nowH; h += 3 + (6 * random.NextDouble()))
            {
                var flow = asNew * (1 - (0.28 * (atFitting + (rate * h / 1000))));
                runs.Add(CheckRun(h, flow * (1 + Normal.Sample(random, 0, noise)), flow * 0.005));
            }

            var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 7, 1);
            var data = FleetData.Build([fleet.Model], fleet.Trucks, [], _ => runs, runs[^1].End.AddDays(1));
            var forecast = new LinearWear(options).Forecast(data, (ulong)i, CancellationToken.None)[0].Forecast;
            var left = 1 - atFitting - (rate * forecast.HoursSinceFitting / 1000);
            var truth = left / (rate * Math.Exp((rateChangeSd * Normal.Sample(random, 0, 1)) - (rateChangeSd * rateChangeSd / 2))) * 1000;
            covered += truth >= forecast.HoursToLimit!.P10 && truth <= forecast.HoursToLimit.P90 ? 1 : 0;
            below += truth < forecast.HoursToLimit.P10 ? 1 : 0;
            above += truth > forecast.HoursToLimit.P90 ? 1 : 0;
        }

        output.WriteLine($"covered {covered / (double)pumps:P1}, truth earlier {below / (double)pumps:P1}, later {above / (double)pumps:P1}");
        var half = 3.29 * Math.Sqrt(0.8 * 0.2 / pumps);
        Assert.InRange(covered / (double)pumps, 0.8 - half, 0.8 + half);
    }

    /// <summary>
    /// Checks begin long after fitting, and the truth of the flow as new lies about the nameplate's as the option says: the 80 % interval of wear now
    /// must cover within 99.9 % limits of a binomial.
    /// </summary>
    [Fact]
    public void WearNow_AgainstTheNameplate_CoversAtEightyPercent_UnderItsAssumptions()
    {
        const int pumps = 400;
        var random = new Random(43);
        var covered = 0;
        var options = new WearOptions { RateChangeSd = 0, HorizonDays = 7, Draws = 1000, RateSdPer1000H = 0.6 };
        for (var i = 0; i < pumps; i++)
        {
            // The rate from its prior, a half-normal; the rest as the options say.
            var rate = Math.Abs(Normal.Sample(random, 0, options.RateSdPer1000H));
            var atFitting = Normal.Sample(random, 0, options.WearAtFittingSd);
            var asNew = 0.93 * 0.2 / 12 * (1 + Normal.Sample(random, 0, options.NameplateBaselineSd));
            var fromH = 300 + (500 * random.NextDouble());
            var runs = new List<Run>();
            for (var h = fromH; h < fromH + 100; h += 6)
            {
                var flow = asNew * (1 - (0.28 * (atFitting + (rate * h / 1000))));
                runs.Add(CheckRun(h, flow + Normal.Sample(random, 0, 0.015 * asNew), 0.005 * asNew));
            }

            var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1", AgeAtStartH = fromH }], 7, 1);
            var data = FleetData.Build([fleet.Model], fleet.Trucks, [], _ => runs, runs[^1].End.AddDays(1));
            var forecast = new LinearWear(options).Forecast(data, (ulong)i, CancellationToken.None)[0].Forecast;
            var truth = atFitting + (rate * forecast.HoursSinceFitting / 1000);
            covered += truth >= forecast.Wear!.Low && truth <= forecast.Wear.High ? 1 : 0;
        }

        output.WriteLine($"covered {covered / (double)pumps:P1}");
        var half = 3.29 * Math.Sqrt(0.8 * 0.2 / pumps);
        Assert.InRange(covered / (double)pumps, 0.8 - half, 0.8 + half);
    }

    private static Run CheckRun(double hoursH, double flow, double se)
    {
        var start = SyntheticFleet.Begin.AddHours(hoursH * 4);
        var template = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 1, 1, 1).RunsOf("T1")[0];
        return template with
        {
            Start = start,
            End = start.AddHours(1),
            HoursH = 1,
            MeterStartH = 1000 + hoursH,
            MeterEndH = 1001 + hoursH,
            FirstPumpDown = template.FirstPumpDown! with { Start = start, NetFlowPerVolumePerS = flow, NetFlowPerVolumeSe = se },
        };
    }

    private static WearForecast One(SyntheticTruck truck, int days)
    {
        var fleet = new SyntheticFleet([truck], days, 11);
        return Forecast(fleet, fleet.RunsOf(truck.Id));
    }

    private static WearForecast Forecast(SyntheticFleet fleet, IReadOnlyList<Run> runs)
    {
        var data = FleetData.Build([fleet.Model], fleet.Trucks, fleet.Records, _ => runs, fleet.End);
        return new LinearWear(Exact).Forecast(data, 1, CancellationToken.None)[^1].Forecast;
    }

    private static void Finite(WearForecast forecast)
    {
        Assert.True(double.IsFinite(forecast.Wear!.Low + forecast.Wear.Mid + forecast.Wear.High + forecast.WearPer1000H!.Value + forecast.WearPer1000HSe!.Value));
        Assert.All(forecast.Fan, p => Assert.True(double.IsFinite(p.Low + p.Mid + p.High + p.HoursSinceFitting)));
        Assert.All(forecast.Checks, c => Assert.True(double.IsFinite(c.FlowKept + c.FlowKeptSe + c.Wear + c.WearSe)));
    }
}
