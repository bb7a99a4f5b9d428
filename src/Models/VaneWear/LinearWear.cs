using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.Random;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

//     start-up checks of every life --> steps (leaks, blockages, their repair) taken out
//                  |
//                  v
//     checks that fall by wear alone --> lives with a baseline of their own --> baselines and rates that peers may use
//                  |                                                                     |
//                  v                                                                     v
//     robust line, noise, weights -----------------------------------> posterior of baseline, wear at fitting, rate
//                                                                                        |
//                              the truck's weeks, drawn again and again ---> hours and dates of wear = 1, fan

/// <summary>Wear as a straight line over hours since fitting.</summary>
/// <remarks>
/// The interval holds the noise of the checks, the sizes of steps, the baseline, the wear at fitting, the rate, a stated change of rate from now on and
/// the weeks' usage. A step (a leak, a blockage, a recalibrated gauge) is taken out; a leak that grows slowly is read as wear, and so is curvature.
/// </remarks>
/// <param name="options">How.</param>
public sealed class LinearWear(WearOptions options) : IWearModel
{
    // A life shorter than this says too little about its rate to lend it to others.
    private const double LentRateSpanH = 200;

    // The same without data of its own: a baseline read from the pump's own checks starts from nothing.
    private const double OpenBaselineSd = 0.3;

    private const int StepDraws = 10;

    /// <inheritdoc/>
    public IReadOnlyList<WearResult> Forecast(FleetData data, ulong seed, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(data);
        var checks = data.Pumps.ToDictionary(p => p, p => FlowSteps.Of(Checks(p), p.Records, options));
        var learned = new List<LearnedLife>();
        foreach (var pump in data.Pumps.Where(p => HasOwnBaseline(checks[p].Checks)))
        {
            cancellationToken.ThrowIfCancellationRequested();
            learned.Add(Learn(pump, checks[pump], Generator(pump, seed)));
        }

        var results = new List<WearResult>();
        foreach (var pump in data.Pumps.Where(p => p.IsCurrent))
        {
            cancellationToken.ThrowIfCancellationRequested();
            var usage = Usage.Read([.. data.Pumps.Where(p => p.Truck.Id == pump.Truck.Id).SelectMany(p => p.Runs)], data.AsOf, options.UsageWeeks);
            results.Add(Forecast(pump, checks[pump], learned, usage, data.AsOf, Generator(pump, seed)));
        }

        return results;
    }

    private List<WearCheck> Checks(PumpHistory pump) =>
    [
        .. pump.Runs
            .Select(r => r.FirstPumpDown)
            .Where(d => d is { IsStartUpCheck: true, NetFlowPerVolumePerS: > 0 and < double.PositiveInfinity, NetFlowPerVolumeSe: >= 0 and < double.PositiveInfinity })
            .Select(d => new WearCheck(
                pump.Clock.HoursAt(d!.Start),
                d.NetFlowPerVolumePerS,
                d.SpeedRpm is null ? Math.Sqrt(Square(d.NetFlowPerVolumeSe) + Square(options.UnknownSpeedError * d.NetFlowPerVolumePerS)) : d.NetFlowPerVolumeSe,
                d)),
    ];

    private bool HasOwnBaseline(IReadOnlyList<WearCheck> checks) =>
        checks.Count >= options.FewestChecks && checks.Count(c => c.HoursH <= options.BaselineH) >= options.FewestBaselineChecks;

    private LearnedLife Learn(PumpHistory pump, FlowSteps steps, Random random)
    {
        var checks = steps.Checks;
        var draws = Draw(pump, steps, CheckLine.Fit(checks), OwnBaseline(checks), WearPriors.OpenRate(options), random);
        var mean = draws.Average(d => d.BaselinePerS);
        var sd = Math.Sqrt(draws.Average(d => Square(d.BaselinePerS - mean)));
        double? rate = checks[^1].HoursH - checks[0].HoursH >= LentRateSpanH ? Robust.Median(draws.Select(d => d.RatePer1000H)) : null;
        return new LearnedLife(pump, mean, sd / mean, rate);
    }

    // Where steps were taken out their sizes are drawn too, a few times: for each the rest follows in closed form.
    private WearDraw[] Draw(PumpHistory pump, FlowSteps steps, CheckLine line, Baseline baseline, RatePrior rate, Random random)
    {
        var times = steps.Steps.IsEmpty ? 1 : StepDraws;
        return
        [
            .. Enumerable.Range(0, times).SelectMany(_ => WearPosterior.Draw(
                steps.Drawn(random), line.Weights, baseline, pump.Model.FlowKeptLimit, options.WearAtFittingSd, rate, options.Draws / times, random)),
        ];
    }

    private WearResult Forecast(PumpHistory pump, FlowSteps steps, List<LearnedLife> learned, Usage usage, DateTimeOffset asOf, Random random)
    {
        var checks = steps.Checks;
        var baseline = HasOwnBaseline(checks) ? OwnBaseline(checks) : WearPriors.Baseline(pump, learned, options);
        var empty = new WearForecast
        {
            Truck = pump.Truck.Id,
            PumpSerial = pump.Life.PumpSerial,
            PumpModel = pump.Model.Model,
            AsOf = asOf,
            HoursSinceFitting = pump.Clock.TotalH,
            Observations = 0,
            Status = checks.Count == 0 ? ForecastStatus.NoChecks : ForecastStatus.TooFewChecks,
            FlowKeptLimit = pump.Model.FlowKeptLimit,
            HoursPerDay = usage.HoursPerDay,
            Checks = Observations(pump, steps, baseline.PerS, null),
            Fan = [],
            Remarks = [.. pump.Clock.Remarks],
        };
        if (checks.Count < options.FewestChecks)
        {
            return new WearResult(
                empty with
                {
                    Remarks = [.. empty.Remarks, $"{checks.Count} start-up checks so far; {options.FewestChecks} are needed. A closed-tank pump-down each morning gives them."],
                },
                null);
        }

        var line = CheckLine.Fit(checks);
        var draws = Draw(pump, steps, line, baseline, WearPriors.Rate(pump, learned, options), random);
        return new WearResult(
            Complete(empty, pump, steps, baseline, line, draws, usage, random),
            Summarise(pump, checks, baseline, line, draws));
    }

    private WearForecast Complete(
        WearForecast empty, PumpHistory pump, FlowSteps steps, Baseline baseline, CheckLine line, WearDraw[] draws, Usage usage, Random random)
    {
        var checks = steps.Checks;
        var nowH = pump.Clock.TotalH;
        var projection = WearProjection.Run(draws, nowH, empty.AsOf, usage, options, random);
        var (low, mid, high) = Quantiles.TenFiftyNinety([.. draws.Select(d => d.At(nowH))]);
        var rate = draws.Average(d => d.RatePer1000H);
        var asNew = Robust.Median(draws.Select(d => d.BaselinePerS));
        var remarks = ImmutableArray.CreateBuilder<string>();
        remarks.AddRange(empty.Remarks);
        remarks.Add(Sentence(baseline));
        ImmutableArray<FlowStep> asShares =
        [
            .. steps.Steps.Select(s => s with { Change = s.Change * steps.Level / asNew, ChangeSe = s.ChangeSe * steps.Level / asNew }),
        ];
        remarks.AddRange(asShares.Select(Sentence));
        if (line.Outliers > 0)
        {
            remarks.Add(line.Outliers == 1
                ? $"1 of {checks.Count} checks lies far off the line and counts for less."
                : $"{line.Outliers} of {checks.Count} checks lie far off the line and count for less.");
        }

        if (projection.Hours.P50 is null)
        {
            remarks.Add(string.Create(CultureInfo.InvariantCulture, $"The limit is more likely than not further away than {options.HorizonH:#,0} PTO h."));
        }

        if (usage.HoursPerDay is null)
        {
            remarks.Add("No whole week of runs is known lately, so the truck's usage is not known and hours cannot be turned into dates.");
        }

        return empty with
        {
            Wear = new LowMidHigh(low, mid, high),
            HoursToLimit = projection.Hours,
            DateOfLimit = projection.Dates,
            Observations = checks.Count,
            Status = projection.Hours.P50 is null ? ForecastStatus.NotReached
                : baseline.Source is BaselineSource.OwnChecks or BaselineSource.EarlierLife ? ForecastStatus.Forecast
                : ForecastStatus.Provisional,
            WearPer1000H = rate,
            WearPer1000HSe = Math.Sqrt(draws.Average(d => Square(d.RatePer1000H - rate))),
            Checks = Observations(pump, steps, asNew, line, baseline.Source == BaselineSource.OwnChecks),
            Steps = asShares,
            Fan = [.. Past(pump, draws, empty.AsOf), .. projection.Ahead],
            Remarks = remarks.ToImmutable(),
        };
    }

    private static IEnumerable<WearFanPoint> Past(PumpHistory pump, WearDraw[] draws, DateTimeOffset asOf)
    {
        // From the first run heard, in weeks back from now, so that the line meets the projection.
        var weeks = (int)((asOf - pump.Runs[0].Start).TotalDays / 7);
        for (var week = weeks; week >= 1; week--)
        {
            var at = asOf.AddDays(-7 * week);
            var hoursH = pump.Clock.HoursAt(at);
            var (low, mid, high) = Quantiles.TenFiftyNinety([.. draws.Select(d => d.At(hoursH))]);
            yield return new WearFanPoint(at, hoursH, low, mid, high);
        }
    }

    private ImmutableArray<WearObservation> Observations(PumpHistory pump, FlowSteps steps, double asNew, CheckLine? line, bool isOwn = false) =>
    [
        .. steps.Raw.Zip(steps.Checks, (raw, check) =>
        {
            var se = Math.Max(check.FlowSe, line?.Scatter ?? 0) / asNew;
            var range = 1 - pump.Model.FlowKeptLimit;
            return new WearObservation(
                raw.Source.Start,
                raw.HoursH,
                raw.FlowPerS / asNew,
                se,
                (1 - (check.FlowPerS / asNew)) / range,
                se / range,
                raw.Source.PlateauKPa,
                raw.Source.EndedAtRelief,
                raw.Source.WatchTime5To12InHgS,
                isOwn && raw.HoursH <= options.BaselineH);
        }),
    ];

    private FittedModel Summarise(PumpHistory pump, IReadOnlyList<WearCheck> checks, Baseline baseline, CheckLine line, WearDraw[] draws)
    {
        var asNew = draws.Average(d => d.BaselinePerS);
        return new FittedModel
        {
            Name = "VaneWear",
            Scope = pump.Name,
            Method = "straight line over hours since fitting, Bayesian, checks weighted by Huber",
            Status = FitStatus.Converged,
            Observations = checks.Count,
            ResidualScale = line.Scatter / asNew,
            Coefficients =
            [
                Coefficient("net flow over gas volume as new, 1/s", d => d.BaselinePerS),
                Coefficient("wear at fitting, 1", d => d.AtFitting),
                Coefficient("wear rate, 1/1000 h", d => d.RatePer1000H),
            ],
            Warnings =
            [
                Sentence(baseline),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The interval holds the noise of checks, the baseline, the wear at fitting, the rate, a change of rate from now on by {options.RateChangeSd:P0} and the weeks' usage; a leak that grows slowly would be read as wear."),
            ],
        };

        Coefficient Coefficient(string name, Func<WearDraw, double> of)
        {
            var mean = draws.Average(of);
            return new Coefficient(name, mean, Math.Sqrt(draws.Average(d => Square(of(d) - mean))));
        }
    }

    private static Baseline OwnBaseline(IReadOnlyList<WearCheck> checks) =>
        new(BaselineSource.OwnChecks, CheckLine.Fit(checks).Start, OpenBaselineSd);

    private static string Sentence(FlowStep step)
    {
        var what = step.Change > 0 ? "rose" : step.Nature switch
        {
            FlowStepNature.Leak => "fell at one stroke, mostly by a leak,",
            FlowStepNature.Flow => "fell at one stroke, mostly by less flow,",
            _ => "fell at one stroke",
        };
        var why = step.Service is { } service ? $", about when the service record {service} was made" : string.Empty;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Flow kept {what} by {Math.Abs(step.Change) * 100:F0} % of new on {step.At.UtcDateTime:yyyy-MM-dd}{why}; that step is no wear and was taken out.");
    }

    private static string Sentence(Baseline baseline) => baseline.Source switch
    {
        BaselineSource.OwnChecks => "This pump's flow as new was read from its own first start-up checks.",
        BaselineSource.EarlierLife => "This pump's flow as new was carried over from its earlier life on this truck.",
        BaselineSource.Peers => string.Create(
            CultureInfo.InvariantCulture, $"Provisional: this pump was not heard when new, so its flow as new is taken from other trucks with this pump model, give or take {baseline.RelativeSd * 100:F0} %. Measuring the vane width sharpens it."),
        _ => string.Create(
            CultureInfo.InvariantCulture, $"Provisional: this pump was not heard when new, so its flow as new is taken from rated flow and tank volume, give or take {baseline.RelativeSd * 100:F0} %. Measuring the vane width sharpens it."),
    };

    // FNV-1a over the pump's name, so that every pump has a generator of its own.
    private static MersenneTwister Generator(PumpHistory pump, ulong seed)
    {
        var hash = 14695981039346656037UL ^ seed;
        foreach (var c in string.Create(CultureInfo.InvariantCulture, $"{pump.Name} {pump.Life.FittedAt.ToUnixTimeMilliseconds()}"))
        {
            hash = (hash ^ c) * 1099511628211UL;
        }

        return new MersenneTwister((int)(hash ^ (hash >> 32)), threadSafe: false);
    }

    private static double Square(double x) => x * x;
}
