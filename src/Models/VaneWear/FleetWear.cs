using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.Random;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

//     start-up checks of every life --> steps (leaks, blockages, their repair) found    vane widths
//                  |                                                                         |
//                  v                                                                         v
//     net flow and tightness, some checks at a time ----------> all lives of the fleet fitted together (FleetWearFit)
//                                                                      |
//                       the truck's weeks, drawn again and again --->  hours and dates of wear = 1, chances by date, fan

/// <summary>Wear read from start-up checks and vane widths together, each pump believed in the light of the others.</summary>
/// <remarks>
/// The interval holds the noise of the checks, the sizes of steps, the flow and tightness as new, the wear at fitting, the rate, its wander so far and from now on, a late speed-up as
/// far as the fleet shows or cannot rule out one, and the weeks' usage. What speed, heat and poor lubrication do to the rate is the fleet's, where its lives show it; a fault that stands is
/// taken to go on until it is mended. A leak that grows slowly is read as wear.
/// </remarks>
/// <param name="options">How.</param>
public sealed class FleetWear(WearOptions options) : IWearModel
{
    private const int PastDraws = 300;

    // A measurement is recommended where the interval is wide and would shrink to this share or less; of our own.
    private const double Narrow = 0.8;
    private const double WideInterval = 0.4;

    // A change of flow without wear is spoken of from this share on, where it stands out of its own error; of our own.
    private const double FlowMatters = 0.03;
    private const double FlowPlainSd = 2.5;

    // What strains a pump is spoken of where it changes ln rate by more; of our own.
    private const double StrainMatters = 0.1;

    /// <inheritdoc/>
    public IReadOnlyList<WearResult> Forecast(FleetData data, ulong seed, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(data);
        var parallel = new ParallelOptions { CancellationToken = cancellationToken, MaxDegreeOfParallelism = Environment.ProcessorCount };
        var byTruck = data.Pumps.GroupBy(p => p.Truck.Id, StringComparer.Ordinal).Select(g => g.OrderBy(p => p.Life.FittedAt).ToList()).ToList();
        var lives = new WearLife[byTruck.Count][];
        Parallel.For(0, byTruck.Count, parallel, t =>
        {
            var widths = WearLife.WidthsOf(byTruck[t], options);
            lives[t] = [.. byTruck[t].Select(p => WearLife.Of(p, FlowSteps.Of(Checks(p), p.Records, options), [.. widths[p].OrderBy(w => w.HoursH)], options))];
        });
        var fleet = FleetWearFit.Of(lives, options, cancellationToken);
        var runs = byTruck.ToDictionary(pumps => pumps[0].Truck.Id, pumps => (IReadOnlyList<Run>)[.. pumps.SelectMany(p => p.Runs)], StringComparer.Ordinal);
        var season = UsageSeason.Learn(runs.Values, data.AsOf);
        var learned = LearnedLimits.Of(fleet, options, seed, cancellationToken);
        var fits = fleet.Fits.ToDictionary(f => f.Life.Pump);
        var current = lives.SelectMany((ofTruck, t) => ofTruck.Select(life => (Life: life, Pumps: byTruck[t]))).Where(l => l.Life.Pump.IsCurrent).ToArray();
        var results = new WearResult[current.Length];
        Parallel.For(0, current.Length, parallel, i =>
        {
            var (life, pumps) = current[i];
            var usage = Usage.Read(runs[life.Pump.Truck.Id], data.AsOf, options.UsageWeeks, season);
            var hasEarlier = pumps.Any(p => p.Life.FittedAt < life.Pump.Life.FittedAt && p.Life.PumpSerial == life.Pump.Life.PumpSerial && fits.ContainsKey(p));
            results[i] = Forecast(life, fits.GetValueOrDefault(life.Pump), fleet, learned, hasEarlier, usage, data.AsOf, Generator(life.Pump, seed));
        });
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

    private WearResult Forecast(WearLife life, LifeFit? fit, FleetWearFit fleet, LearnedLimits? learned, bool hasEarlier, Usage usage, DateTimeOffset asOf, Random random)
    {
        var pump = life.Pump;
        var checks = life.Steps.Raw;
        var source = HasOwnBaseline(checks) ? BaselineSource.OwnChecks
            : life.Widths.Length > 0 ? BaselineSource.VaneWidth
            : hasEarlier ? BaselineSource.EarlierLife
            : BaselineSource.Fleet;
        var asNew = Math.Exp((fit?.Theta ?? [fleet.Model(life).NetFlow.Mean])[LifeReadings.NetFlowAt]) * life.NominalPerS;
        var empty = new WearForecast
        {
            Truck = pump.Truck.Id,
            PumpSerial = pump.Life.PumpSerial,
            PumpModel = pump.Model.Model,
            AsOf = asOf,
            HoursSinceFitting = life.NowH,
            Observations = 0,
            Status = checks.Count == 0 ? ForecastStatus.NoChecks : ForecastStatus.TooFewChecks,
            FlowKeptLimit = pump.Model.FlowKeptLimit,
            HoursPerDay = usage.HoursPerDay,
            Checks = Observations(life, fit, asNew, false),
            VaneWidths = [.. life.Widths.Select(w => new VaneWidth(w.At, w.HoursH, w.WidthMm, w.Wear, w.Sd))],
            Fan = [],
            Remarks = [.. pump.Clock.Remarks],
        };
        if (fit is null)
        {
            return new WearResult(
                empty with
                {
                    Remarks = [.. empty.Remarks, $"{checks.Count} start-up checks so far; {options.FewestChecks} are needed. A closed-tank pump-down each morning gives them."],
                },
                null);
        }

        return new WearResult(Complete(empty, fit, fleet, learned, source, asNew, usage, random), Summarise(fit, fleet, source));
    }

    private WearForecast Complete(WearForecast empty, LifeFit fit, FleetWearFit fleet, LearnedLimits? learned, BaselineSource source, double asNew, Usage usage, Random random)
    {
        var life = fit.Life;
        var draws = WearDraws.Of(fit, options.Draws, random);
        var widthSd = life.Pump.Model is { VaneWidthNew: { } widthNew, VaneWidthLimit: { } widthLimit } && widthNew.Si > widthLimit.Si
            ? options.VaneWidthErrorMm / (widthNew.Millimetres - widthLimit.Millimetres)
            : (double?)null;
        var projection = WearProjection.Run(
            draws, fleet.Shared.Early, fleet.LateWeights, options.RateWanderSd == 0 ? 0 : fleet.Shared.WanderPer1000H, life.NowH, empty.AsOf, usage, widthSd, learned?.For(fit), options, random);
        var (low, mid, high) = Quantiles.TenFiftyNinety((double[])draws.NowWear.Clone());
        var rates = draws.LogRateNow.Zip(draws.NowWear, (log, wear) => 1000 * Math.Exp(log) * fit.Shared.Early.Slope(life.NowH) * fit.Shared.Late.At(fit.Shared.Late.Inverse(wear)).Slope).ToArray();
        var (rateLow, rate, rateHigh) = Quantiles.TenFiftyNinety(rates);
        ImmutableArray<FlowStep> steps =
        [
            .. life.Steps.Steps.Select((s, i) =>
            {
                // Where the step stands, less was kept already: as a share of the flow as new it is the smaller for it.
                var kept = (1 - (fit.LossAtLimit * fit.WearAt(fit.Theta, s.HoursSinceFitting))) * Math.Exp(Enumerable.Range(0, i).Sum(e => fit.Step(e).Change));
                var (change, se) = fit.Step(i);
                return s with { Change = kept * (Math.Exp(change) - 1), ChangeSe = kept * Math.Exp(change) * se };
            }),
        ];
        return empty with
        {
            Wear = new LowMidHigh(low, mid, high),
            HoursToLimit = projection.Hours,
            DateOfLimit = projection.Dates,
            Learned = projection.Learned,
            Chances = projection.Chances,
            Observations = life.Steps.Raw.Count + life.Widths.Length,
            Status = projection.Hours.P50 is null ? ForecastStatus.NotReached
                : source is BaselineSource.Fleet ? ForecastStatus.Provisional
                : ForecastStatus.Forecast,
            WearPer1000H = rate,

            // 10 and 90 % of a normal lie 2.563 standard deviations apart.
            WearPer1000HSe = (rateHigh - rateLow) / 2.563,
            Checks = Observations(life, fit, asNew, source == BaselineSource.OwnChecks),
            Steps = steps,
            WidthNarrowsTo = projection.NarrowedByWidth,
            Fan = [.. Past(fit, draws, empty.AsOf), .. projection.Ahead],
            Remarks = [.. empty.Remarks, .. Remarks(fit, source, steps, projection, usage)],
        };
    }

    private IEnumerable<string> Remarks(LifeFit fit, BaselineSource source, ImmutableArray<FlowStep> steps, WearProjection projection, Usage usage)
    {
        yield return Sentence(source);
        if (fit.Life.Widths is [.., var last])
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"The vane width of {last.WidthMm:F1} mm measured on {last.At.UtcDateTime:yyyy-MM-dd} stands for a wear of {last.Wear:F2}, give or take {last.Sd:F2}.");
        }

        foreach (var doubtful in fit.DoubtfulWidths)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture, $"The vane width of {doubtful.WidthMm:F1} mm of {doubtful.At.UtcDateTime:yyyy-MM-dd} does not fit the checks and counts for less; measure it again.");
        }

        foreach (var step in steps)
        {
            yield return Sentence(step);
        }

        if (fit.FlowChange() is var (change, se) && Math.Abs(change) > Math.Max(FlowMatters, FlowPlainSd * se))
        {
            yield return change < 0
                ? string.Create(CultureInfo.InvariantCulture, $"Of the flow about {-100 * change:F0} % was lost slowly without wear: look at inlet filter, hoses, coupling and gauge.")
                : string.Create(CultureInfo.InvariantCulture, $"About {100 * change:F0} % more flow came slowly, which wear cannot do: look at the gauge and at what was repaired.");
        }

        foreach (var (effect, why) in new[] { (fit.StrainsOfLate.Speed, "its speed"), (fit.StrainsOfLate.Heat, "heat"), (fit.StrainsOfLate.Oil, "poor lubrication") }.Where(s => Math.Abs(s.Item1) > StrainMatters))
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"Wear goes {Math.Exp(effect):F2} times as fast as otherwise by {why} of the last {LifeFit.RecentH:F0} h, as the fleet's lives show; that is taken to go on{(why == "its speed" ? string.Empty : " until it is mended")}.");
        }

        if (fit.Life.FarOff > 0)
        {
            yield return fit.Life.FarOff == 1
                ? $"1 of {fit.Life.Steps.Raw.Count} checks lies far off its neighbours and counts for less."
                : $"{fit.Life.FarOff} of {fit.Life.Steps.Raw.Count} checks lie far off their neighbours and count for less.";
        }

        if (projection.NarrowedByWidth is { } narrowed and <= Narrow && projection.Hours is { P10: { } soon, P50: > 0 and var middle, P90: var late } && ((late ?? options.HorizonH) - soon) / middle >= WideInterval)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture, $"Measuring the vane width now would narrow the range of the limit to about {narrowed:P0} of what it is.");
        }

        if (projection.Learned is { } learned)
        {
            yield return learned.Weight > 0
                ? string.Create(CultureInfo.InvariantCulture, $"The hours to the limit are {1 - learned.Weight:P0} the wear curve's and {learned.Weight:P0} learned from {learned.Lives} lives that reached it, which also set the range.")
                : string.Create(CultureInfo.InvariantCulture, $"The hours to the limit are the wear curve's; {learned.Lives} lives that reached it set the range.");
        }

        if (projection.Hours.P50 is null)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The limit is more likely than not further away than {options.HorizonH:#,0} PTO h.");
        }

        if (usage.HoursPerDay is null)
        {
            yield return "No whole week of runs is known lately, so the truck's usage is not known and hours cannot be turned into dates.";
        }
    }

    private static IEnumerable<WearFanPoint> Past(LifeFit fit, WearDraws draws, DateTimeOffset asOf)
    {
        // From the first run heard, in weeks back from now, so that the line meets the projection.
        var pump = fit.Life.Pump;
        var weeks = pump.Runs.Count == 0 ? 0 : (int)((asOf - pump.Runs[0].Start).TotalDays / 7);
        for (var week = weeks; week >= 1; week--)
        {
            var at = asOf.AddDays(-7 * week);
            var hoursH = pump.Clock.HoursAt(at);
            var (low, mid, high) = Quantiles.TenFiftyNinety(draws.WearAt(hoursH, PastDraws));
            yield return new WearFanPoint(at, hoursH, low, mid, high);
        }
    }

    private ImmutableArray<WearObservation> Observations(WearLife life, LifeFit? fit, double asNew, bool isOwn) =>
    [
        .. life.Steps.Raw.Select(check =>
        {
            var range = fit?.LossAtLimit ?? life.Range;
            var steps = 0.0;
            for (var s = 0; fit is not null && s < life.Steps.Steps.Length && life.Steps.Steps[s].HoursSinceFitting <= check.HoursH; s++)
            {
                steps += fit.Step(s).Change;
            }

            var cleared = check.FlowPerS * Math.Exp(-steps);
            var se = Math.Max(check.FlowSe / asNew, life.Scatter.NetFlow * cleared / asNew);
            return new WearObservation(
                check.Source.Start,
                check.HoursH,
                check.FlowPerS / asNew,
                se,
                (1 - (cleared / asNew)) / range,
                se / range,
                check.Source.PlateauKPa,
                check.Source.EndedAtRelief,
                check.Source.WatchTime5To12InHgS,
                isOwn && check.HoursH <= options.BaselineH);
        }),
    ];

    private static FittedModel Summarise(LifeFit fit, FleetWearFit fleet, BaselineSource source)
    {
        var life = fit.Life;
        var (effects, errors) = (fit.Shared.Strains, fleet.StrainErrors);
        return new FittedModel
        {
            Name = "VaneWear",
            Scope = life.Pump.Name,
            Method = "net flow, tightness and vane widths on one wear curve, empirical Bayes over the fleet, Laplace's approximation, bins weighted by Huber",
            Status = FitStatus.Converged,
            Observations = life.Steps.Raw.Count + life.Widths.Length,
            ResidualScale = life.Scatter.NetFlow,
            Coefficients =
            [
                Coefficient("ln net flow as new over the nameplate's, 1", LifeReadings.NetFlowAt),
                Coefficient("ln tightness as new, 1", LifeReadings.TightnessAt),
                Coefficient("wear at fitting, 1", LifeReadings.AtFittingAt),
                Coefficient("ln flow lost at the limit over the model's, 1", LifeReadings.LossAt),
                Coefficient("ln wear rate at first, 1/h", LifeReadings.RateAt),
                .. new (string Name, double Estimate, double Se)[]
                {
                    ("ln wear rate per ln of speed over rated, of the fleet, 1", effects.Speed, errors.Speed),
                    ("ln wear rate when hot, of the fleet, 1", effects.Heat, errors.Heat),
                    ("ln wear rate under poor lubrication, of the fleet, 1", effects.Oil, errors.Oil),
                }.Where(e => e.Estimate != 0).Select(e => new Coefficient(e.Name, e.Estimate, e.Se)),
            ],
            Warnings =
            [
                Sentence(source),
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Shared by the fleet: wander of ln rate {Math.Sqrt(fit.Shared.WanderPer1000H):F2} in 1 000 h, of ln displaced flow {Math.Sqrt(fit.Shared.FlowPer1000H):F3}; net flow {fit.Shared.PerKelvin.NetFlow * 1000:F2} and tightness {fit.Shared.PerKelvin.Tightness * 1000:F2} per mille a kelvin; noise of a bin beyond its checks' {Math.Sqrt(fit.Shared.BinVariance.NetFlow) * 1000:F1} and {Math.Sqrt(fit.Shared.BinVariance.Tightness) * 1000:F1} per mille, correlated by {fit.Shared.Correlation:F2}; bedding in wears like {fit.Shared.Early.ExtraH:F0} h more; late speed-up {fit.Shared.Late.SpeedUp:F1} from wear {LateCurve.From:F2} (chances {string.Join(", ", fleet.LateWeights.Select(l => FormattableString.Invariant($"{l.SpeedUp:F1}: {l.Weight:F2}")))})."),
            ],
        };

        Coefficient Coefficient(string name, int at) => new(name, fit.Theta[at], Math.Sqrt(fit.Covariance[at, at]));
    }

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

    private static string Sentence(BaselineSource source) => source switch
    {
        BaselineSource.OwnChecks => "This pump was heard from new: its own first start-up checks say what it moved as new.",
        BaselineSource.VaneWidth => "This pump was not heard when new, but its vane width was measured in this life.",
        BaselineSource.EarlierLife => "What this pump moved as new was carried over from its earlier life on this truck.",
        _ => "Provisional: this pump was not heard when new; what it moved and how tight it was as new are taken from the fleet's other pumps and the register.",
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
