using MathNet.Numerics.Random;
using Vanehour.Fleet;
using Vanehour.Models.RemainingLife;

namespace Vanehour.Models.VaneWear;

//   lives that reached their limit --> readings every some hours --> RemainingLifeModel, by lives held out --+
//                 |                                                                                         +--> WearBlend --> hours of running pumps
//                 '--> what the wear curve would have said then, from what was known then -------------------+

/// <summary>Hours to the limit learned from the lives of the fleet that reached it.</summary>
internal sealed class LearnedLimits
{
    // How far apart readings and forecasts of past ages lie, h; how many draws tell a past forecast and where a limit lay. All of our own.
    private const double RowH = 40;
    private const double ForecastH = 120;
    private const int FewestRows = 2;
    private const int PastDraws = 200;
    private const int LimitDraws = 5;
    private const double Level = 0.8;

    // A width measured at the end tells where the limit lay if it stands for so much wear; further off it would be guesswork. Of our own.
    private const double NearLimit = 0.8;
    private const double AtEndH = 60;

    // A limit further off than this share of the hours lived is no measurement any more; of our own.
    private const double FurthestOff = 1.3;

    private readonly RemainingLifeModel model;
    private readonly WearBlend blend;
    private readonly FleetWearFit fleet;
    private readonly HashSet<string> pumpModels;

    private LearnedLimits(RemainingLifeModel model, WearBlend blend, FleetWearFit fleet, HashSet<string> pumpModels)
    {
        this.model = model;
        this.blend = blend;
        this.fleet = fleet;
        this.pumpModels = pumpModels;
    }

    /// <summary>Learns; null where too few lives reached their limit while they were heard.</summary>
    public static LearnedLimits? Of(FleetWearFit fleet, WearOptions options, ulong seed, CancellationToken cancellationToken)
    {
        var ended = fleet.Fits.Select(f => (Fit: f, LimitH: LimitH(f))).Where(f => f.LimitH is not null)
            .Select(f => (f.Fit, LimitH: f.LimitH!.Value, History: History(f.Fit.Life, fleet, Math.Min(f.Fit.Life.NowH, f.LimitH!.Value), f.LimitH)))
            .Where(f => f.History is not null)
            .Select(f => (f.Fit, f.LimitH, History: f.History!))
            .ToList();
        if (ended.Count < options.FewestEndedLives)
        {
            return null;
        }

        var learned = RemainingLifeModel.Learn(
            [.. ended.Select(e => e.History)],
            new RemainingLifeTask { Cap = options.LearnedCapH, Windows = [[100, 300]], Kinds = [LearnerKind.Line, LearnerKind.BoostedTrees], FewestUnits = options.FewestEndedLives, FewestAges = FewestRows, Level = Level },
            seed,
            cancellationToken);
        if (learned is null)
        {
            return null;
        }

        // Those that go on were not learned from either, and are known to have lasted until now: without them the long-lived would be missing.
        var held = learned.HeldOut.ToDictionary(h => (h.Unit, h.Age), h => h.Predicted);
        var taught = ended.Select(e => e.Fit).ToHashSet();
        var all = ended.Select(e => (e.Fit, e.LimitH, e.History, HasEnded: true)).Concat(
            fleet.Fits.Where(f => !taught.Contains(f))
                .Select(f => (Fit: f, LimitH: Math.Min(f.Life.NowH, f.CourseOf(f.Theta).ReachesAt(1))))
                .Select(f => (f.Fit, f.LimitH, History: History(f.Fit.Life, fleet, f.LimitH, null)!, HasEnded: false))
                .Where(f => f.History is not null)).ToList();
        var past = new List<PastForecast>[all.Count];
        Parallel.For(0, all.Count, new ParallelOptions { CancellationToken = cancellationToken, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            var (fit, limitH, history, hasEnded) = all[i];
            var random = new MersenneTwister((int)(seed % int.MaxValue) + i, threadSafe: false);
            past[i] = [];
            var nextH = 0.0;
            var along = hasEnded ? [] : learned.Along(history);

            // Where the limit lay is itself known only so well.
            double[] limitsH = hasEnded ? [.. WearDraws.Of(fit, LimitDraws, random).ReachesAt(1).Select(h => Failed(fit.Life) ? Math.Min(h, fit.Life.NowH) : h)] : [limitH];
            for (var a = FewestRows - 1; a < history.Ages.Count; a++)
            {
                var ageH = history.Ages[a];
                if (ageH >= nextH && ageH < limitH && Forecast(fit, ageH, fleet, options, random) is var (p10, p50, p90))
                {
                    var learnedH = hasEnded ? held[(history.Unit, ageH)] : along[a + 1 - FewestRows];
                    past[i].AddRange(limitsH.Select(h => new PastForecast(history.Unit, ageH, p10, p50, p90, learnedH, Math.Max(0, h - ageH), hasEnded)));
                    nextH = ageH + ForecastH;
                }
            }
        });
        var models = ended.GroupBy(e => e.Fit.Life.Pump.Model.Model, StringComparer.Ordinal).Where(g => g.Count() >= options.FewestEndedLivesOfModel).Select(g => g.Key);
        return new LearnedLimits(learned, WearBlend.Learn([.. past.SelectMany(p => p)], options.LearnedCapH, Level), fleet, models.ToHashSet(StringComparer.Ordinal));
    }

    /// <summary>What was learned of a running pump; null where its model had too few ended lives.</summary>
    public LearnedHours? For(LifeFit fit)
    {
        if (!pumpModels.Contains(fit.Life.Pump.Model.Model))
        {
            return null;
        }

        var history = blend.Weight == 0 ? null : History(fit.Life, fleet, fit.Life.NowH, null);
        return new LearnedHours(history is null ? null : model.Predict(history).Expected, blend);
    }

    /// <summary>Hours since fitting at which an ended life came to its limit, h; null where that cannot be told.</summary>
    private static double? LimitH(LifeFit fit)
    {
        var life = fit.Life;
        if (life.Pump.Life.EndedBy is null)
        {
            return null;
        }

        var hasFailed = Failed(life);
        var wasMeasured = life.Widths is [.., { } last] && last.Wear >= NearLimit && life.NowH - last.HoursH <= AtEndH;
        if (!hasFailed && !wasMeasured)
        {
            return null;
        }

        var course = fit.CourseOf(fit.Theta);
        var limitH = course.ReachesAt(1);
        return hasFailed && !(limitH <= life.NowH) ? life.NowH : limitH <= life.NowH * FurthestOff ? limitH : null;
    }

    private static bool Failed(WearLife life) => life.Pump.Life.EndedBy == ServiceKind.Failure;

    private static (double P10, double P50, double P90)? Forecast(LifeFit fit, double ageH, FleetWearFit fleet, WearOptions options, Random random)
    {
        var then = fit.Life.Until(ageH);
        if (!then.HasObservations)
        {
            return null;
        }

        var known = new LifeFit(then, fit.Strain, fit.Priors, fleet.Shared, options);
        known.Fit();
        return WearProjection.HoursOf(WearDraws.Of(known, PastDraws, random), ageH, fleet.Shared.Early, fleet.LateWeights, options.RateWanderSd == 0 ? 0 : fleet.Shared.WanderPer1000H, random);
    }

    // Readings of a life at ages a row apart; the last at its end.
    private static UnitHistory? History(WearLife life, FleetWearFit fleet, double untilH, double? endsAtH)
    {
        if (life.Bins.Length == 0)
        {
            return null;
        }

        var priors = fleet.Model(life);
        var runs = life.Pump.Runs.Select(r => (Run: r, AtH: life.Pump.Clock.HoursAt(r.End))).ToList();
        var ages = new List<double>();
        var rows = new List<double[]>();
        var firstRun = 0;
        for (var ageH = untilH - (RowH * Math.Floor((untilH - life.FirstH) / RowH)); ageH <= untilH + 1e-9; ageH += RowH)
        {
            while (firstRun < runs.Count && runs[firstRun].AtH <= ageH - RowH)
            {
                firstRun++;
            }

            var ofRow = runs.Skip(firstRun).TakeWhile(r => r.AtH <= ageH).Select(r => r.Run).ToList();
            ages.Add(ageH);
            rows.Add(
            [
                Worn(WearChannel.NetFlow, priors.NetFlow.Mean),
                Worn(WearChannel.Tightness, priors.Tightness.Mean),
                life.Widths.LastOrDefault(w => w.HoursH <= ageH) is { WidthMm: > 0 } width ? width.Wear : double.NaN,
                Mean(ofRow.Select(r => r.TempRiseK)),
                Mean(ofRow.Select(r => r.OilRateLPerH)),
                Mean(ofRow.Select(r => r.VacuumMeanKPa)),
                1000 * Math.Exp(priors.LogRate.Mean),
            ]);

            double Worn(WearChannel channel, double asNew)
            {
                var bins = life.Bins.Where(b => b.Channel == channel && b.HoursH > ageH - RowH && b.HoursH <= ageH).ToList();
                return bins.Count == 0 ? double.NaN : (1 - Math.Exp(bins.Average(b => b.Value - fleet.Shared.Weather(b)) - asNew)) / life.Range;
            }
        }

        return ages.Count == 0 ? null : new UnitHistory($"{life.Pump.Name} / {life.Pump.Life.FittedAt:O}", ages, rows, endsAtH);

        static double Mean(IEnumerable<double?> values) => values.OfType<double>().Where(double.IsFinite).DefaultIfEmpty(double.NaN).Average();
    }
}
