using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

//   lives, truck by truck --> likeliest values of each (LifeFit) --> levels of the models, spread between pumps, wander, noise
//            ^                                                                    |
//            '--------------------------------------------------------------------'   until little moves
//   then: does wear speed up late? (evidence of all lives)

/// <summary>The wear of all lives of a fleet, fitted together.</summary>
internal sealed class FleetWearFit
{
    private const int Sweeps = 8;
    private const int RoundsInSweep = 4;
    private const int EarlyAtSweep = 3;
    private const int StrainsFromSweep = 2;

    // What is believed of the wander beforehand counts like so many knots; of a bin's own noise there is a floor that no gauge beats.
    private const double KnotsBefore = 10;
    private const double LeastBinSd = 0.001;
    private const double BinSdBefore = 0.004;
    private const int FewestBins = 30;

    // The most that two channels can have in common, and that they have nothing counts like so many pairs beforehand; of our own.
    private const double PairsBefore = 30;
    private const double MostCorrelation = 0.9;
    private const double LateMattersFrom = 0.6;
    private const double MostEvidence = 3;

    // Beddings in that are tried, as likely as none; and the lives that are asked. All of our own.
    private static readonly (EarlyCurve Curve, double Before)[] Beginnings =
        [(default, 0.5), (new(20, 40), 0.1), (new(40, 40), 0.1), (new(20, 100), 0.1), (new(40, 100), 0.1), (new(80, 100), 0.1)];

    private const double EarlyHeardByH = 30;
    private const double EarlyOverByH = 200;
    private const int MostFresh = 60;

    // Speed-ups that are tried, and what is believed of each beforehand; of our own.
    private static readonly (double SpeedUp, double Before)[] SpeedUps = [(0, 0.2), (1, 0.2), (2, 0.2), (3, 0.2), (4.5, 0.2)];

    private readonly WearOptions options;
    private readonly List<List<LifeFit>> trucks;
    private readonly FleetLevel netFlow;
    private readonly FleetLevel tightness;
    private readonly FleetLevel logRate;
    private readonly FleetLevel logLoss;
    private readonly StrainEffects strainEffects;

    private FleetWearFit(IReadOnlyList<IReadOnlyList<WearLife>> lives, WearOptions options)
    {
        this.options = options;
        netFlow = new FleetLevel(new NormalPrior(0, Square(options.NameplateBaselineSd)), Square(options.PeerBaselineSd), Square(options.PeerBaselineSd));
        tightness = new FleetLevel(new NormalPrior(Math.Log(WearLife.NetOverRated), Square(options.NameplateTightnessSd)), Square(options.PeerTightnessSd), Square(options.PeerTightnessSd));
        logRate = new FleetLevel(new NormalPrior(Math.Log(options.RatePer1000H / 1000), Square(options.LogRateSd)), Square(options.ModelLogRateSd), Square(options.PumpLogRateSd));
        logLoss = new FleetLevel(new NormalPrior(0, 1e-6), Square(options.LossAtLimitSd), Square(options.LossAtLimitSd));
        strainEffects = new StrainEffects(Square(options.ModelLogRateSd));
        var weather = (WeatherEvidence.PerKelvin(lives.SelectMany(l => l).Select(l => l.Weather.NetFlow)), WeatherEvidence.PerKelvin(lives.SelectMany(l => l).Select(l => l.Weather.Tightness)));
        Shared = new SharedWear(Square(options.RateWanderSd), Square(options.FlowWanderSd), (Square(BinSdBefore), Square(BinSdBefore)), 0, weather, default, default, default);
        var strains = FleetStrain.Of([.. lives.SelectMany(l => l).Select(l => l.Pump)]);
        trucks = [.. lives.Select(ofTruck => ofTruck.Where(l => l.HasObservations).Select(l => new LifeFit(l, strains[l.Pump], Model(l), Shared, options)).ToList())];
    }

    /// <summary>What all lives share, as fitted.</summary>
    public SharedWear Shared { get; private set; }

    /// <summary>Standard errors of the effects of strain.</summary>
    public Strain StrainErrors => strainEffects.Errors;

    /// <summary>How likely each late speed-up is.</summary>
    public IReadOnlyList<(double SpeedUp, double Weight)> LateWeights { get; private set; } = [(0, 1)];

    /// <summary>Fits of the lives with observations.</summary>
    public IEnumerable<LifeFit> Fits => trucks.SelectMany(t => t);

    /// <summary>Fits a fleet.</summary>
    /// <param name="lives">The lives of each truck in order of fitting.</param>
    /// <param name="options">What is believed beforehand.</param>
    /// <param name="cancellationToken">Stops between sweeps and trucks.</param>
    public static FleetWearFit Of(IReadOnlyList<IReadOnlyList<WearLife>> lives, WearOptions options, CancellationToken cancellationToken)
    {
        var fleet = new FleetWearFit(lives, options);
        for (var sweep = 0; sweep < Sweeps; sweep++)
        {
            fleet.Sweep(RoundsInSweep, cancellationToken);
            fleet.Learn(sweep);
            if (sweep == EarlyAtSweep)
            {
                // Otherwise bedding in is learned as wander.
                fleet.ChooseEarly(cancellationToken);
            }
        }

        fleet.ChooseLate(cancellationToken);
        fleet.Sweep(4 * RoundsInSweep, cancellationToken);
        return fleet;
    }

    /// <summary>What is believed of a life that nothing was observed of.</summary>
    public LifePriors Model(WearLife life)
    {
        var (model, truck) = (life.Pump.Model.Model, life.Pump.Truck.Id);
        var flow = netFlow.For(model, truck);
        var unknownSpeed = life.Steps.Raw.Count > 0 && life.Steps.Raw.Count(c => c.Source.SpeedRpm is null) * 2 > life.Steps.Raw.Count;
        return new LifePriors(
            unknownSpeed ? flow with { Variance = flow.Variance + Square(options.UnknownSpeedError) } : flow,
            tightness.For(model, truck),
            logRate.For(model, truck),
            logLoss.For(model, truck));
    }

    private void Sweep(int rounds, CancellationToken cancellationToken) =>
        Parallel.ForEach(trucks, new ParallelOptions { CancellationToken = cancellationToken, MaxDegreeOfParallelism = Environment.ProcessorCount }, lives =>
        {
            LifeFit? earlier = null;
            foreach (var fit in lives)
            {
                var priors = Model(fit.Life);
                if (earlier is not null)
                {
                    priors = priors with
                    {
                        NetFlow = Carried(earlier, LifeReadings.NetFlowAt, options.CarriedBaselineSd),
                        Tightness = Carried(earlier, LifeReadings.TightnessAt, options.CarriedBaselineSd / 3),
                    };
                }

                fit.Priors = priors;
                fit.Shared = Shared;
                fit.Fit(rounds);
                earlier = fit;
            }
        });

    private static NormalPrior Carried(LifeFit earlier, int at, double sd) => new(earlier.Theta[at], earlier.Covariance[at, at] + Square(sd));

    private void Learn(int sweep)
    {
        var before = Shared.Strains;
        if (sweep >= StrainsFromSweep)
        {
            strainEffects.Learn([.. Fits.Select(f => (f.Life.Pump.Model.Model, f.StrainEvidence()))], sweep == Sweeps - 1);
            Shared = Shared with { Strains = strainEffects.Effects };
            foreach (var fit in Fits)
            {
                fit.Shared = Shared;
            }
        }

        var firsts = trucks.Where(t => t.Count > 0).Select(t => t[0]).ToList();
        netFlow.Learn(firsts.Select(f => Row(f, LifeReadings.NetFlowAt, f.Priors.NetFlow)));
        tightness.Learn(firsts.Select(f => Row(f, LifeReadings.TightnessAt, f.Priors.Tightness)));
        logRate.Learn(Fits.Select(f =>
        {
            // Levels are what is left without strain.
            var (model, truck, prior, after) = Row(f, LifeReadings.RateAt, f.Priors.LogRate);
            var was = f.AtFirst(before);
            return (model, truck, prior with { Mean = prior.Mean + was - f.ExpectedAtFirst }, after with { Mean = after.Mean - f.ExpectedAtFirst });
        }));
        logLoss.Learn(Fits.Select(f => Row(f, LifeReadings.LossAt, f.Priors.LogLoss)));
        Shared = Shared with
        {
            WanderPer1000H = Wander(options.RateWanderSd, false),
            FlowPer1000H = Wander(options.FlowWanderSd, true),
            BinVariance = (BinVariance(WearChannel.NetFlow), BinVariance(WearChannel.Tightness)),
            Correlation = Correlation(),
        };

        static (string Model, string Truck, NormalPrior Before, NormalPrior After) Row(LifeFit fit, int at, NormalPrior before) =>
            (fit.Life.Pump.Model.Model, fit.Life.Pump.Truck.Id, before, new NormalPrior(fit.Theta[at], fit.Covariance[at, at]));
    }

    private double Wander(double before, bool ofFlow)
    {
        var sum = KnotsBefore * Square(before);
        var count = KnotsBefore;
        foreach (var (square, thousands, trust) in Fits.SelectMany(f => f.Changes(ofFlow)))
        {
            sum += trust * square / thousands;
            count++;
        }

        return sum / count;
    }

    private double BinVariance(WearChannel channel)
    {
        var rows = Fits.SelectMany(f =>
        {
            var own = f.Residuals(channel).ToList();

            // The curve follows its bins: with few of them what is left looks too small.
            var grow = Math.Sqrt(own.Count / Math.Max(1, own.Count - ((f.Theta.Length - 2) / 2.0)));
            return own.Select(r => (Residual: r.Residual * grow, r.Sd));
        }).ToList();
        if (rows.Count < FewestBins)
        {
            return Square(BinSdBefore);
        }

        var all = Square(Robust.SpreadAboutZero(rows.Select(r => r.Residual)));
        return Math.Max(Square(LeastBinSd), all - Square(Robust.Median(rows.Select(r => r.Sd))));
    }

    // By the spreads of sum and difference: few far-off bins move neither.
    private double Correlation()
    {
        var pairs = Fits.SelectMany(f => f.PairedResiduals()).ToList();
        if (pairs.Count < FewestBins)
        {
            return 0;
        }

        var sum = Square(Robust.SpreadAboutZero(pairs.Select(p => p.NetFlow + p.Tightness)));
        var difference = Square(Robust.SpreadAboutZero(pairs.Select(p => p.NetFlow - p.Tightness)));
        return Math.Clamp((sum - difference) / (sum + difference), -MostCorrelation, MostCorrelation) * pairs.Count / (pairs.Count + PairsBefore);
    }

    // Of the lives heard from new so many say enough.
    private void ChooseEarly(CancellationToken cancellationToken)
    {
        var fresh = Fits.Where(f => f.Life.FirstH < EarlyHeardByH && f.Life.NowH > EarlyOverByH).Take(MostFresh).ToList();
        if (fresh.Count > 0)
        {
            var chances = Chances(Evidence(fresh, Beginnings.Length, c => Shared with { Early = Beginnings[c].Curve }, cancellationToken), [.. Beginnings.Select(b => b.Before)]);

            // The mean course: how the beginning went matters little later, so one curve does.
            var extraH = Beginnings.Zip(chances, (b, chance) => chance * b.Curve.ExtraH).Sum();
            var fadesH = Beginnings.Zip(chances, (b, chance) => chance * b.Curve.ExtraH * b.Curve.FadesH).Sum() / Math.Max(extraH, double.Epsilon);
            Shared = Shared with { Early = extraH < 1 ? default : new EarlyCurve(extraH, fadesH) };
        }
    }

    private void ChooseLate(CancellationToken cancellationToken)
    {
        var worn = Fits.Where(f => f.CourseOf(f.Theta).SteadyAt(f.Life.NowH) > LateMattersFrom).ToList();
        if (worn.Count == 0)
        {
            LateWeights = SpeedUps;
            return;
        }

        var chances = Chances(Evidence(worn, SpeedUps.Length, c => Shared with { Late = new LateCurve(SpeedUps[c].SpeedUp) }, cancellationToken), [.. SpeedUps.Select(s => s.Before)]);
        LateWeights = [.. SpeedUps.Zip(chances, (s, chance) => (s.SpeedUp, chance))];
        Shared = Shared with { Late = new LateCurve(LateWeights.MaxBy(l => l.Weight).SpeedUp) };
    }

    // ln evidence of each candidate (row) by each pump.
    private static double[,] Evidence(List<LifeFit> of, int candidates, Func<int, SharedWear> shared, CancellationToken cancellationToken)
    {
        var sums = new double[candidates, of.Count];
        Parallel.For(0, of.Count, new ParallelOptions { CancellationToken = cancellationToken, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            for (var c = 0; c < candidates; c++)
            {
                of[i].Shared = shared(c);
                of[i].Fit(2 * RoundsInSweep);
                sums[c, i] = of[i].LogEvidence;
            }
        });
        return sums;
    }

    private static double[] Chances(double[,] sums, double[] before)
    {
        var evidence = new double[before.Length];
        for (var c = 0; c < evidence.Length; c++)
        {
            // A pump that one of them fits badly for a reason of its own does not decide alone.
            evidence[c] = Enumerable.Range(0, sums.GetLength(1)).Sum(i => Math.Clamp(sums[c, i] - sums[0, i], -MostEvidence, MostEvidence)) + Math.Log(before[c]);
        }

        var peak = evidence.Max();
        var total = evidence.Sum(e => Math.Exp(e - peak));
        return [.. evidence.Select(e => Math.Exp(e - peak) / total)];
    }

    private static double Square(double x) => x * x;
}
