using MathNet.Numerics.Distributions;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

/// <summary>What speed, heat and poor lubrication do to wear is learned where it does something, and only there.</summary>
public sealed class StrainTests(ITestOutputHelper output)
{
    private const int Pumps = 40;
    private const double UsualRpm = 1100;

    [Fact]
    public void Speed_OfHalfTheTrucks_IsLearned()
    {
        var fleet = Fit((truck, _, random) => (UsualRpm * (truck % 2 == 0 ? 1.2 : 1) * Math.Exp(Normal.Sample(random, 0, 0.01)), 50, 0.5), s => 2 * s.Speed);
        output.WriteLine($"{fleet.Shared.Strains} {fleet.StrainErrors}");
        Assert.InRange(fleet.Shared.Strains.Speed, 2 - (3 * fleet.StrainErrors.Speed), 2 + (3 * fleet.StrainErrors.Speed));
        Assert.InRange(fleet.StrainErrors.Speed, 0.05, 0.4);
        Assert.Equal((0, 0), (fleet.Shared.Strains.Heat, fleet.Shared.Strains.Oil));
    }

    /// <summary>Every third pump runs short of oil for its last third: rates treble there.</summary>
    [Fact]
    public void PoorLubrication_IsLearned_AndGoesOn()
    {
        var fleet = Fit((truck, hoursH, _) => (UsualRpm, 50, truck % 3 == 0 && hoursH > 300 ? 0.1 : 0.5), s => s.Oil * Math.Log(3));
        output.WriteLine($"{fleet.Shared.Strains} {fleet.StrainErrors}");
        Assert.InRange(fleet.Shared.Strains.Oil, Math.Log(3) - 0.15, Math.Log(3) + 0.15);
        Assert.Equal((0, 0), (fleet.Shared.Strains.Speed, fleet.Shared.Strains.Heat));
        Assert.All(fleet.Fits.Where(f => f.Strain.Mean(f.Life.NowH - LifeFit.RecentH, f.Life.NowH).Oil > 0.5), f => Assert.True(f.StrainsOfLate.Oil > 0.5));
    }

    [Theory]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    public void Noise_IsNotKept(int seed)
    {
        var phases = Enumerable.Range(0, Pumps).Select(i => new Random(i + (100 * seed))).Select(r => (Speed: Normal.Sample(r, 0, 0.1), HotFromH: 600 * r.NextDouble(), DryFromH: 600 * r.NextDouble())).ToList();
        var fleet = Fit(
            (truck, hoursH, _) => (
                UsualRpm * Math.Exp(phases[truck].Speed),
                hoursH > phases[truck].HotFromH && hoursH < phases[truck].HotFromH + 150 ? 70 : 50,
                hoursH > phases[truck].DryFromH && hoursH < phases[truck].DryFromH + 150 ? 0.1 : 0.5),
            _ => 0,
            seed);
        output.WriteLine($"{fleet.Shared.Strains} {fleet.StrainErrors}");
        Assert.Equal(default, fleet.Shared.Strains);
        Assert.All(fleet.Fits, f => Assert.Equal(0, f.StrainOfLate));
    }

    [Fact]
    public void ConstantConditions_SayNothing()
    {
        var fleet = Fit((_, _, _) => (UsualRpm, 50, 0.5), _ => 0);
        Assert.Equal(default, fleet.Shared.Strains);
        Assert.Equal(default, fleet.StrainErrors);
    }

    [Fact]
    public void Unknown_CountsAsTheMean()
    {
        var life = new LifeStrain([(1, 1, 0.2, 1, null), (2, 1, null, null, 1)]);
        Assert.Equal(new Strain(0.2, 0.5, 0.5), life.Mean(0, 2));
        Assert.Equal(new Strain(0.2, 0, 0), life.Mean(5, 9));
        Assert.Equal(default, LifeStrain.None.Mean(0, 9));
    }

    // Lives at rates about 0.001 per hour at the usual strain, up to near their limit. Conditions: rpm, K over ambient, L/h by truck and hours; effect on ln rate by the true strain.
    private static FleetWearFit Fit(Func<int, double, Random, (double Rpm, double RiseK, double OilLPerH)> conditions, Func<Strain, double> effect, int seed = 5)
    {
        const double stepH = 4;
        var random = new Random(seed);
        var runs = new Dictionary<string, List<Run>>(StringComparer.Ordinal);
        for (var i = 0; i < Pumps; i++)
        {
            var id = $"T{i:D2}";
            var rate = 0.001 * Math.Exp(Normal.Sample(random, 0, 0.1));
            var wear = 0.0;
            runs[id] = [];
            for (var h = 2.0; wear < 0.9 && h < 800; h += stepH)
            {
                var (rpm, riseK, oilLPerH) = conditions(i, h, random);
                wear += rate * stepH * Math.Exp(effect(new Strain(Math.Log(rpm / UsualRpm), riseK > 60 ? 1 : 0, oilLPerH < 0.2 ? 1 : 0)));
                var kept = 1 - ((1 - SyntheticFleet.FlowKeptLimit) * wear);
                var run = CheckRuns.At(h, 0.93 * 0.2 / 12 * kept * Math.Exp(Normal.Sample(random, 0, 0.01)), 0.0002, 0.93 * kept * Math.Exp(Normal.Sample(random, 0, 0.008)));
                runs[id].Add(run with
                {
                    Truck = id,
                    End = run.Start.AddHours(stepH),
                    HoursH = stepH,
                    MeterEndH = run.MeterStartH + stepH,
                    SpeedMeanRpm = rpm,
                    TempRiseK = riseK,
                    OilUsedL = oilLPerH * stepH,
                });
            }
        }

        var options = new WearOptions();
        var fleet = new SyntheticFleet([.. runs.Keys.Select(id => new SyntheticTruck { Id = id })], 7, 1);
        var data = FleetData.Build([fleet.Model], fleet.Trucks, [], id => runs[id], runs.Values.Max(r => r[^1].End).AddDays(1));
        var lives = data.Pumps.Select(pump =>
        {
            var checks = pump.Runs.Select(r => r.FirstPumpDown!).Select(d => new WearCheck(pump.Clock.HoursAt(d.Start), d.NetFlowPerVolumePerS, d.NetFlowPerVolumeSe, d)).ToList();
            return new[] { WearLife.Of(pump, FlowSteps.Of(checks, pump.Records, options), [], options) };
        }).ToList();
        return FleetWearFit.Of(lives, options, CancellationToken.None);
    }
}
