using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

/// <summary>What a fleet's lives share is found again in fleets made with it.</summary>
public sealed class FleetWearFitTests(ITestOutputHelper output)
{
    private const int Pumps = 40;

    [Fact]
    public void BeddingIn_IsLearned()
    {
        var plain = Fit(default, 0, 1, false).Shared.Early;
        var bedded = Fit(new EarlyCurve(50, 70), 0, 1, false).Shared.Early;
        output.WriteLine($"plain {plain}, bedded {bedded}");
        Assert.InRange(plain.ExtraH, 0, 12);

        // Drawn towards none, for wear at fitting could do some of it too.
        Assert.InRange(bedded.ExtraH, 20, 75);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(0.6)]
    public void CorrelationOfTheChannels_IsLearned(double correlation)
    {
        var found = Fit(default, correlation, 1, false).Shared.Correlation;
        output.WriteLine($"{found}");
        Assert.InRange(found, correlation - 0.15, correlation + 0.15);
    }

    /// <summary>The pumps lose a tenth more at their limit than the book says. Only calipers can tell; without them nothing is made up.</summary>
    [Fact]
    public void FlowLostAtTheLimit_IsLearnedFromWidths()
    {
        var with = Fit(default, 0, 1.1, true).Fits.Average(f => f.Theta[LifeReadings.LossAt]);
        var without = Fit(default, 0, 1.1, false).Fits.Average(f => f.Theta[LifeReadings.LossAt]);
        output.WriteLine($"with {with}, without {without}, true {Math.Log(1.1)}");
        Assert.InRange(with, 0.05, 0.12);
        Assert.InRange(without, -0.02, 0.02);
    }

    // Lives from fitting to near their limit, at rates about 0.001 per hour.
    private static FleetWearFit Fit(EarlyCurve early, double correlation, double lossOverBook, bool hasWidths)
    {
        var random = new Random(5);
        var runs = new Dictionary<string, List<Run>>(StringComparer.Ordinal);
        var records = new List<ServiceRecord>();
        for (var i = 0; i < Pumps; i++)
        {
            var id = $"T{i:D2}";
            var rate = 0.001 * Math.Exp(Normal.Sample(random, 0, 0.1));
            runs[id] = [];
            for (var h = 2.0; rate * h < 0.9; h += 4)
            {
                var wear = rate * early.WornH(h);
                var kept = 1 - ((1 - SyntheticFleet.FlowKeptLimit) * lossOverBook * wear);
                var (common, own) = (Normal.Sample(random, 0, 1), Normal.Sample(random, 0, 1));
                var net = Math.Exp(0.01 * ((correlation * common) + (Math.Sqrt(1 - (correlation * correlation)) * own)));
                runs[id].Add(CheckRuns.At(h, 0.93 * 0.2 / 12 * kept * net, 0.0002, 0.93 * kept * Math.Exp(0.008 * common)) with { Truck = id });
                if (hasWidths && runs[id].Count % 50 == 0)
                {
                    var run = runs[id][^1];
                    records.Add(new ServiceRecord
                    {
                        RecordId = $"{id} {h}",
                        At = run.End.AddMinutes(10),
                        Truck = id,
                        MeterH = run.MeterEndH!.Value,
                        Kind = ServiceKind.VaneWidth,
                        Value = 50 - (6 * wear) + Normal.Sample(random, 0, 0.1),
                        Unit = "mm",
                    });
                }
            }
        }

        var options = new WearOptions();
        var fleet = new SyntheticFleet([.. runs.Keys.Select(id => new SyntheticTruck { Id = id })], 7, 1);
        var model = fleet.Model with { VaneWidthNew = Length.FromMillimetres(50), VaneWidthLimit = Length.FromMillimetres(44) };
        var data = FleetData.Build([model], fleet.Trucks, records, id => runs[id], runs.Values.Max(r => r[^1].End).AddDays(1));
        var lives = data.Pumps.Select(pump =>
        {
            var checks = pump.Runs.Select(r => r.FirstPumpDown!).Select(d => new WearCheck(pump.Clock.HoursAt(d.Start), d.NetFlowPerVolumePerS, d.NetFlowPerVolumeSe, d)).ToList();
            return new[] { WearLife.Of(pump, FlowSteps.Of(checks, pump.Records, options), [.. WearLife.WidthsOf([pump], options)[pump]], options) };
        }).ToList();
        return FleetWearFit.Of(lives, options, CancellationToken.None);
    }
}
