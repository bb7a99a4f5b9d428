using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

public sealed class VaneWidthTests(ITestOutputHelper output)
{
    /// <summary>A caliper that says what was likeliest anyway, and nothing else to tell the flow as new by: the interval shrinks about as far as was promised.</summary>
    [Fact]
    public void VaneWidth_NarrowsTheInterval_AsPromised()
    {
        var without = Flow(600, null);
        var with = Flow(600, 50 - (without.Wear!.Mid * 6));

        Assert.Equal(ForecastStatus.Provisional, without.Status);
        Assert.NotNull(without.WidthNarrowsTo);
        Assert.Contains(without.Remarks, r => r.Contains("Measuring the vane width now", StringComparison.Ordinal));
        Assert.Equal(ForecastStatus.Forecast, with.Status);
        Assert.Equal(without.Wear.Mid, Assert.Single(with.VaneWidths).Wear, 1e-9);
        Assert.InRange(without.Wear.Mid, with.Wear!.Low, with.Wear.High);
        var promised = without.WidthNarrowsTo!.Value;
        var kept = Width(with) / Width(without);
        output.WriteLine($"promised {promised:F2}, kept {kept:F2}; without {without.HoursToLimit}, with {with.HoursToLimit}");
        Assert.True(promised < 0.8);
        Assert.InRange(kept, promised - 0.1, promised + 0.1);

        static double Width(WearForecast f) => f.HoursToLimit!.P90!.Value - f.HoursToLimit.P10!.Value;
    }

    [Fact]
    public void VaneWidth_ThatContradictsTheChecks_IsDoubted()
    {
        // Heard from new, half worn by net flow and by tightness; the caliper says as new.
        var wrong = Flow(2, 50, 800, hasTightness: true);
        output.WriteLine($"{wrong.Wear} {string.Join(" / ", wrong.Remarks)}");
        Assert.Contains(wrong.Remarks, r => r.Contains("measure it again", StringComparison.Ordinal));
        Assert.InRange(wrong.Wear!.Mid, 0.3, 0.6);
    }

    [Fact]
    public void VaneWidthAsNew_AfterFlowFell_SaysThatItIsNoWear()
    {
        // The same without tightness: less flow past vanes that are as new is something in its way.
        var blocked = Flow(2, 50, 800);
        Assert.Contains(blocked.Remarks, r => r.Contains("without wear", StringComparison.Ordinal));
        Assert.True(blocked.Wear!.High < 0.3);
    }

    [Fact]
    public void VaneWidth_WrittenUpAfterTheRebuild_BelongsToTheLifeBefore()
    {
        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 300, 3);
        var rebuiltAt = SyntheticFleet.Begin.AddDays(150);
        var meterH = fleet.RunsOf("T1").Last(r => r.Start < rebuiltAt).MeterEndH!.Value;
        var laterH = fleet.RunsOf("T1").Last(r => r.Start < rebuiltAt.AddDays(60)).MeterEndH!.Value;
        ServiceRecord Record(ServiceKind kind, double days, double meter, double? mm) => new()
        {
            RecordId = $"{kind}{days}",
            At = rebuiltAt.AddDays(days),
            Truck = "T1",
            MeterH = meter,
            Kind = kind,
            Value = mm,
            Unit = mm is null ? null : "mm",
        };
        ServiceRecord[] records = [Record(ServiceKind.Rebuild, 0, meterH, null), Record(ServiceKind.VaneWidth, 2, meterH, 44.5), Record(ServiceKind.VaneWidth, 60, laterH, 49.7)];
        var model = fleet.Model with { VaneWidthNew = Length.FromMillimetres(50), VaneWidthLimit = Length.FromMillimetres(44) };
        var data = FleetData.Build([model], fleet.Trucks, records, fleet.RunsOf, fleet.End);
        var forecast = Assert.Single(new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None)).Forecast;

        Assert.Equal(49.7, Assert.Single(forecast.VaneWidths).WidthMm, 1e-9);
        Assert.Equal(laterH - meterH, forecast.VaneWidths[0].HoursSinceFitting, 0.5);
    }

    // One pump of a model, by net flow alone unless said, from an age on for 120 h or more, perhaps with a vane width at the end.
    private static WearForecast Flow(double fromH, double? widthMm, double forH = 120, bool hasTightness = false)
    {
        var random = new Random(9);
        var runs = new List<Run>();
        for (var h = fromH; h < fromH + forH; h += 5)
        {
            var kept = 1 - (0.28 * 0.0006 * h);
            runs.Add(CheckRuns.At(h, 0.93 * 0.2 / 12 * kept * (1 + Normal.Sample(random, 0, 0.015)), 0.0002, hasTightness ? 0.95 * kept * Math.Exp(Normal.Sample(random, 0, 0.01)) : null));
        }

        var fleet = new SyntheticFleet([new SyntheticTruck { Id = "T1", AgeAtStartH = fromH }], 7, 1);
        var model = fleet.Model with { VaneWidthNew = Length.FromMillimetres(50), VaneWidthLimit = Length.FromMillimetres(44) };
        var last = runs[^1];
        ServiceRecord[] records = widthMm is { } mm
            ? [new ServiceRecord { RecordId = "W", At = last.End.AddHours(1), Truck = "T1", MeterH = last.MeterEndH!.Value, Kind = ServiceKind.VaneWidth, Value = mm, Unit = "mm" }]
            : [];
        var data = FleetData.Build([model], fleet.Trucks, records, _ => runs, last.End.AddDays(1));
        return Assert.Single(new FleetWear(new WearOptions()).Forecast(data, 1, CancellationToken.None)).Forecast;
    }
}
