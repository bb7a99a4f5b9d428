using System.Diagnostics;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;
using Vanehour.Models.VaneWear;
using Vanehour.Scoring;
using Vanehour.Simulator;
using Vanehour.Store.Sqlite;

namespace Vanehour.Bench;

/// <summary>Forecasts of the wear limit against when it came (or would have come), beside a straight line per pump and a fixed number of hours.</summary>
internal sealed class WearStudy(IWearModel model, int everyDays, int fromWeek)
{
    private const double RecentH = 100;
    private const double SoonH = 500;
    private const double BreakInWear = 0.2;
    private const double RateOverH = 60;

    // 10 % quantile of a normal.
    private const double LowSd = 1.2816;

    private readonly List<(string Method, WearCase Case)> cases = [];
    private readonly List<double> seconds = [];

    public async Task AddAsync(int number, string folder)
    {
        var registerFile = SqliteDatabase.Open(folder, FleetSchema.Current);
        using var samples = new SqliteTelemetryStore(SqliteDatabase.Open(folder, SamplesSchema.Current));
        var fleet = await ReplayFleet.ReadAsync(new FleetRegister(registerFile), new SqliteRunStore(registerFile), samples, CancellationToken.None);
        var truth = TruthReader.Read(folder.TrimEnd('/') + ".truth.jsonl");
        for (var at = fleet.First!.Value.AddDays(7 * fromWeek); at <= fleet.Last!.Value; at = at.AddDays(everyDays))
        {
            var data = fleet.AsOf(at);
            var watch = Stopwatch.StartNew();
            var forecasts = model.Forecast(data, 1, CancellationToken.None).ToDictionary(r => r.Forecast.Truck, r => r.Forecast, StringComparer.Ordinal);
            seconds.Add(watch.Elapsed.TotalSeconds);
            foreach (var pump in data.Pumps.Where(p => p.IsCurrent))
            {
                Add(number, data, pump, forecasts[pump.Truck.Id], truth);
            }
        }
    }

    private void Add(int number, FleetData data, PumpHistory pump, WearForecast forecast, FleetTruth truth)
    {
        var lives = truth.Lives.Where(l => l.Truck == pump.Truck.Id).OrderBy(l => l.FittedAt).ToList();
        var life = lives.FindIndex(l => l.FittedAt <= data.AsOf && !(l.RemovedAt <= data.AsOf));
        if (life < 0 || lives[life].LimitAtH is not { } limitH || forecast.HoursToLimit is not { } hours)
        {
            return;
        }

        var nowH = pump.Clock.TotalH;
        var leftH = limitH - nowH;
        if (leftH <= 0)
        {
            return;
        }

        var known = pump.Runs.Count > 0 && (pump.Runs[0].Start - pump.Life.FittedAt).TotalDays < 10
            || pump.Records.Any(r => r.Kind == ServiceKind.VaneWidth && pump.Life.Covers(r.At));
        var onsets = truth.Faults.Where(f => f.Truck == pump.Truck.Id && f.Fault != Cause.VanesWorn && pump.Life.FittedAt <= f.Onset)
            .Select(f => f.Onset).Concat(truth.Drifts.Where(d => d.Truck == pump.Truck.Id && pump.Life.FittedAt <= d.Onset).Select(d => d.Onset)).Where(o => o <= (lives[life].LimitAt ?? DateTimeOffset.MaxValue)).ToList();
        var fault = onsets.Count == 0 ? FaultTime.None
            : onsets.Any(o => o <= data.AsOf && nowH - pump.Clock.HoursAt(o) <= RecentH) ? FaultTime.Recent
            : onsets.Any(o => o > data.AsOf) ? FaultTime.Later
            : FaultTime.Before;

        var now = TrueWear(pump, truth, data.AsOf, nowH);
        var dateCovered = lives[life].LimitAt is { } limitAt && forecast.DateOfLimit is { } date
            ? (date.P10 ?? DateTimeOffset.MaxValue) <= limitAt && limitAt <= (date.P90 ?? DateTimeOffset.MaxValue)
            : (bool?)null;
        Keep("model", hours, forecast.Wear, dateCovered);
        Keep("straight line per pump", Line(pump, forecast, nowH), null, null);

        void Keep(string method, HourQuantiles quantiles, LowMidHigh? wear, bool? isDateCovered) => cases.Add((method, new WearCase(
            number, pump.Truck.Id, pump.Model.Model, life, data.AsOf, limitH, leftH, nowH / limitH, known ? WearGroup.Known : WearGroup.Rest, fault, quantiles, wear, now, (forecast.WearPer1000H, forecast.WearPer1000HSe), isDateCovered)));
    }

    // Wear now in truth, and how fast it went over the last hours, by what the truth says of the checks.
    private static (double Wear, double PerThousandH)? TrueWear(PumpHistory pump, FleetTruth truth, DateTimeOffset asOf, double nowH)
    {
        var last = truth.Checks
            .Where(c => c.Truck == pump.Truck.Id && c.At >= pump.Life.FittedAt && c.At <= asOf)
            .Select(c => (H: pump.Clock.HoursAt(c.At), Wear: (1 - c.FlowKept) / (1 - pump.Model.FlowKeptLimit)))
            .Where(c => c.H >= nowH - RateOverH)
            .ToList();
        if (last.Count < 5 || last[^1].H - last[0].H < RateOverH / 2)
        {
            return null;
        }

        var (meanH, meanWear) = (last.Average(c => c.H), last.Average(c => c.Wear));
        var slope = last.Sum(c => (c.H - meanH) * (c.Wear - meanWear)) / last.Sum(c => (c.H - meanH) * (c.H - meanH));
        return (last[^1].Wear + (slope * (nowH - last[^1].H)), 1000 * slope);
    }

    // Least squares of flow kept as the forecast states it, to the limit; the interval by the slope's and the level's standard errors.
    private static HourQuantiles Line(PumpHistory pump, WearForecast forecast, double nowH)
    {
        var nominal = 0.93 * pump.Model.FreeAir.Si / pump.Truck.TankVolume.Si;
        var checks = pump.Runs.Select(r => r.FirstPumpDown).Where(d => d is { IsStartUpCheck: true }).Select(d => (H: pump.Clock.HoursAt(d!.Start), Flow: d.NetFlowPerVolumePerS)).ToList();
        var early = checks.Where(c => c.H <= 150).Select(c => c.Flow).ToList();
        var asNew = early.Count >= 5 ? Robust.Median(early) : nominal;
        var range = 1 - forecast.FlowKeptLimit;
        var fit = WeightedLeastSquares.Fit(new LinearProblem
        {
            Columns = ["hours"],
            Rows = [.. checks.Select(c => new[] { c.H - nowH })],
            Responses = [.. checks.Select(c => (1 - (c.Flow / asNew)) / range)],
        });
        if (fit.Status != FitStatus.Converged || fit.Coefficients[1].Estimate <= 0)
        {
            return new HourQuantiles(null, null, null);
        }

        var (level, slope) = (fit.Coefficients[0].Estimate, fit.Coefficients[1].Estimate);
        var left = (1 - level) / slope;
        var se = Math.Sqrt(Math.Pow(fit.Coefficients[0].StandardError / slope, 2) + Math.Pow(fit.Coefficients[1].StandardError * left / slope, 2));
        return new HourQuantiles(Math.Max(0, left - (LowSd * se)), Math.Max(0, left), Math.Max(0, left + (LowSd * se)));
    }

    // The middle of the true lives of the model in all the fleets of the study: better than any shop could know it.
    private void AddFixed()
    {
        foreach (var model in cases.Where(c => c.Method == "model").Select(c => c.Case).GroupBy(c => c.Model).ToList())
        {
            var lives = model.GroupBy(c => (c.Fleet, c.Truck, c.Life)).Select(g => g.First().LimitH).Order().ToArray();
            foreach (var c in model)
            {
                var nowH = c.LimitH - c.LeftH;
                cases.Add(("fixed hours", c with { Forecast = new HourQuantiles(At(0.1, nowH), At(0.5, nowH), At(0.9, nowH)), Wear = null, DateCovered = null }));
            }

            double At(double p, double nowH) => Math.Max(0, lives[(int)(p * (lives.Length - 1))] - nowH);
        }
    }

    public void Write(TextWriter output)
    {
        AddFixed();
        output.WriteLine(Invariant($"{seconds.Count} fits of all pumps, median {Robust.Median(seconds):F2} s"));
        output.WriteLine("one forecast a life, at a week drawn at random (80 % interval) and at the week nearest to 500 h left (median error)");
        output.WriteLine($"{"method",-24} {"pumps",-34} {"lives",6} {"cover",6} {"early",6} {"late",6} {"bias",6} {"|err|",6} {"width",6} {"dates",6} | {"n500",5} {"cover",6} {"bias",6} {"|err|",6}");
        foreach (var method in cases.GroupBy(c => c.Method))
        {
            var all = method.Select(c => c.Case).ToList();
            Row("all", _ => true);
            Row("main: past break-in, no recent fault", IsMain);
            Row("  main, no fault ahead", c => IsMain(c) && c.Fault != FaultTime.Later);
            Row("  main, seen from new or width", c => IsMain(c) && c.Group == WearGroup.Known);
            Row("  main, rest", c => IsMain(c) && c.Group == WearGroup.Rest);
            Row("  main, fault before", c => IsMain(c) && c.Fault == FaultTime.Before);
            Row("  main, fault later", c => IsMain(c) && c.Fault == FaultTime.Later);
            Row("  main, wear 0.2 to 0.5", c => IsMain(c) && c.WearNow < 0.5);
            Row("  main, wear 0.5 to 0.8", c => IsMain(c) && c.WearNow is >= 0.5 and < 0.8);
            Row("  main, wear 0.8 to 1", c => IsMain(c) && c.WearNow >= 0.8);
            Row("break-in", c => c.WearNow < BreakInWear);
            Row("fault within 100 h", c => c.Fault == FaultTime.Recent);

            void Row(string name, Func<WearCase, bool> which)
            {
                var rows = all.Where(which).ToList();
                var one = rows.GroupBy(c => (c.Fleet, c.Truck, c.Life)).Select(g => g.OrderBy(c => c.AsOf).ElementAt((int)(Hash(g.Key) % (uint)g.Count()))).ToList();
                var soon = rows.Where(c => Math.Abs(c.LeftH - SoonH) <= 0.15 * SoonH).GroupBy(c => (c.Fleet, c.Truck, c.Life)).Select(g => g.MinBy(c => Math.Abs(c.LeftH - SoonH))!).ToList();
                if (one.Count == 0)
                {
                    return;
                }

                output.WriteLine(Invariant($"{method.Key,-24} {name,-34} {one.Count,6} {Share(one, c => c.Covered),6:F3} {Share(one, c => !c.Covered && !c.Later),6:F3} {Share(one, c => c.Later),6:F3} {Robust.Median(one.Select(c => c.RelativeError)),6:F2} {Robust.Median(one.Select(c => Math.Abs(c.RelativeError))),6:F2} {Robust.Median(one.Select(Width)),6:F2} {one.Select(c => c.DateCovered is { } d ? (d ? 1.0 : 0) : (double?)null).Average() ?? double.NaN,6:F3} | {soon.Count,5} {(soon.Count == 0 ? double.NaN : Share(soon, c => c.Covered)),6:F3} {(soon.Count == 0 ? double.NaN : Robust.Median(soon.Select(c => c.RelativeError))),6:F2} {(soon.Count == 0 ? double.NaN : Robust.Median(soon.Select(c => Math.Abs(c.RelativeError)))),6:F3}"));
            }
        }

        static bool IsMain(WearCase c) => c.WearNow >= BreakInWear && c.Fault != FaultTime.Recent;
        static double Share(List<WearCase> of, Func<WearCase, bool> which) => of.Count(which) / (double)of.Count;
        static double Width(WearCase c) => ((c.Forecast.P90 ?? 10_000) - (c.Forecast.P10 ?? 10_000)) / c.LeftH;
    }

    /// <summary>Each case of the model's as one line of comma-separated values.</summary>
    public void WriteCases(TextWriter output)
    {
        output.WriteLine("fleet,truck,model,life,as_of,left_h,wear_now,group,fault,p10,p50,p90,wear_low,wear_mid,wear_high,true_wear,true_rate,rate,rate_se,life_h");
        foreach (var (_, c) in cases.Where(c => c.Method == "model"))
        {
            output.WriteLine(Invariant($"{c.Fleet},{c.Truck},{c.Model},{c.Life},{c.AsOf:yyyy-MM-dd},{c.LeftH:F0},{c.WearNow:F3},{c.Group},{c.Fault},{c.Forecast.P10:F0},{c.Forecast.P50:F0},{c.Forecast.P90:F0},{c.Wear?.Low:F3},{c.Wear?.Mid:F3},{c.Wear?.High:F3},{c.Now?.Wear:F3},{c.Now?.PerThousandH:F3},{c.Rate.PerThousandH:F3},{c.Rate.Se:F3},{c.LimitH - c.LeftH:F0}"));
        }
    }

    // The same week is drawn whatever else is in the study.
    private static uint Hash((int Fleet, string Truck, int Life) key)
    {
        var hash = 2166136261u;
        foreach (var c in $"{key.Fleet}/{key.Truck}/{key.Life}")
        {
            hash = (hash ^ c) * 16777619u;
        }

        return hash ^ (hash >> 13);
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
