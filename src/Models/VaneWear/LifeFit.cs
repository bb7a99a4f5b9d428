using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.VaneWear;

// theta: ln net flow as new | ln tightness as new | wear at fitting | ln of the flow lost at the limit over the book's | ln rate | changes of ln rate at the knots | changes of ln displaced flow at the knots
//        | sizes of the steps, in net flow, then in tightness
//
// steady wear u(h) = wear at fitting + integral of rate over hours worn (early curve);  wear x = late curve(u)
// ln rate is expected to go by what may speed wear up (strain): so much from first, so much of each change.
//
// net flow    = as new * (1 - loss x) * displaced flow over its first * weather * steps + noise      (all in logarithms)
// tightness   = as new * (1 - loss x) * weather * steps + noise
// vane width  = x + noise

/// <summary>
/// The wear of one life as its observations and what is believed of it beforehand make it most likely, with the curvature there (Laplace's approximation).
/// </summary>
/// <remarks>
/// Bins and widths that lie far off weigh less (Huber); a change of rate far out of the ordinary is held less tightly (Student's t by its scale mixture), so that a fault is
/// followed and noise is not. Of net flow only what tightness of the same checks has not said already is counted. [BDA] A. Gelman et al., Bayesian Data Analysis, 3rd edition, 2013, sections 4.1, 13.3 and 17.2.
/// </remarks>
internal sealed class LifeFit
{
    public const int NetFlowAt = 0;
    public const int TightnessAt = 1;
    public const int AtFittingAt = 2;
    public const int LossAt = 3;
    public const int RateAt = 4;

    /// <summary>What strained a pump over the last hours is taken to go on, h; of our own.</summary>
    public const double RecentH = 100;

    private const int FirstKnotAt = 5;
    private const int MostKnots = 8;
    private const double KnotH = 100;

    // Hours unseen before the first check wander no further than this many would: what matters there is the mean rate.
    private const double MostUnseenH = 400;
    private const double StepSd = 0.3;
    private const double Dof = 4;
    private const double HuberScale = 2.5;
    private const double LeastKept = 0.03;
    private const int MostRounds = 40;

    // Bins of the two channels so close in time are of the same checks.
    private const double PairedWithinH = 10;
    private const double Settled = 1e-6;

    // The logarithm of a rate further than this from where it was is no step that a quadratic can tell.
    private const double LongestStep = 1.5;

    private readonly WearLife life;
    private readonly WearOptions options;
    private readonly double[] knotsH;
    private readonly double[] knotVariances;
    private readonly LifeStrain strain;
    private readonly Strain[] strains;
    private readonly Strain recent;
    private readonly int[] binSegments;
    private readonly int[] binPartners;
    private readonly int[] widthSegments;
    private readonly double[] trusts;
    private readonly double[] knotTrusts;
    private readonly double[] flowTrusts;
    private readonly int size;
    private double[] expected = [];
    private double[] knotsWornH = [];
    private double[] binsWornH = [];
    private double[] widthsWornH = [];

    public LifeFit(WearLife life, LifeStrain strain, LifePriors priors, SharedWear shared, WearOptions options)
    {
        this.life = life;
        this.options = options;
        Priors = priors;
        (knotsH, knotVariances) = Knots();
        this.strain = strain;
        strains = [.. Enumerable.Range(0, knotsH.Length + 1).Select(s => strain.Mean(s == 0 ? 0 : knotsH[s - 1], s == knotsH.Length ? life.NowH : knotsH[s]))];
        recent = strain.Mean(Math.Max(knotsH.LastOrDefault(), life.NowH - RecentH), life.NowH);
        Shared = shared;
        size = FirstKnotAt + (2 * knotsH.Length) + (2 * life.Steps.Steps.Length);
        binSegments = [.. life.Bins.Select(b => SegmentAt(b.HoursH))];
        binPartners = Partners();
        widthSegments = [.. life.Widths.Select(w => SegmentAt(w.HoursH))];
        trusts = [.. Enumerable.Repeat(1.0, life.Bins.Length + life.Widths.Length)];
        knotTrusts = [.. Enumerable.Repeat(1.0, knotsH.Length)];
        flowTrusts = [.. Enumerable.Repeat(1.0, knotsH.Length)];
        Theta = new double[size];
        Theta[NetFlowAt] = priors.NetFlow.Mean;
        Theta[TightnessAt] = priors.Tightness.Mean;
        Theta[RateAt] = priors.LogRate.Mean;
        Covariance = Matrix<double>.Build.DenseIdentity(size);
    }

    public WearLife Life => life;

    /// <summary>What may have sped up wear in this life.</summary>
    public LifeStrain Strain => strain;

    public LifePriors Priors { get; set; }

    public SharedWear Shared
    {
        get;
        set
        {
            if (field is null || value.Early != field.Early)
            {
                knotsWornH = [.. knotsH.Select(value.Early.WornH)];
                binsWornH = [.. life.Bins.Select(b => value.Early.WornH(b.HoursH))];
                widthsWornH = [.. life.Widths.Select(w => value.Early.WornH(w.HoursH))];
            }

            if (field is null || value.Strains != field.Strains)
            {
                expected = [.. strains.Select((s, i) => (i == 0 ? s : s.Less(strains[i - 1])).Times(value.Strains))];
            }

            field = value;
        }
    }

    /// <summary>The likeliest values.</summary>
    public double[] Theta { get; private set; }

    /// <summary>Their covariance.</summary>
    public Matrix<double> Covariance { get; private set; }

    /// <summary>Flow that is lost when the vanes are at their limit, as a share of the flow as new.</summary>
    public double LossAtLimit => LossOf(Theta);

    /// <summary>ln of the probability of the observations, by Laplace's approximation, up to a constant of the life.</summary>
    public double LogEvidence { get; private set; }

    /// <summary>Vane widths that the rest of the life contradicts.</summary>
    public IEnumerable<WidthReading> DoubtfulWidths => life.Widths.Where((_, i) => trusts[life.Bins.Length + i] < 0.6);

    /// <summary>Finds the likeliest values from where they are.</summary>
    /// <param name="rounds">Most rounds of Gauss and Newton.</param>
    public void Fit(int rounds = MostRounds)
    {
        Reweight();
        var objective = Objective(Theta);
        for (var round = 0; round < rounds; round++)
        {
            var (information, gradient) = Equations(Theta);
            var step = SmallSystem.Solve(information, gradient);
            var share = Math.Min(1, LongestStep / Math.Max(1e-12, Enumerable.Range(RateAt, 1 + knotsH.Length).Max(i => Math.Abs(step[i]))));
            var moved = 0.0;
            for (var halving = 0; halving < 12; halving++, share /= 2)
            {
                var trial = new double[size];
                for (var i = 0; i < size; i++)
                {
                    trial[i] = Theta[i] + (share * step[i]);
                }

                var there = Objective(trial);
                if (there <= objective)
                {
                    moved = objective - there;
                    Theta = trial;
                    break;
                }
            }

            Reweight();
            var next = Objective(Theta);
            var settled = moved < Settled && Math.Abs(next - objective) < 1e-4;
            objective = next;
            if (settled)
            {
                break;
            }
        }

        var (atPeak, _) = Equations(Theta);
        Covariance = SmallSystem.Inverse(atPeak, out var logDeterminant);
        LogEvidence = -Objective(Theta) - LogScales() - (logDeterminant / 2);
    }

    /// <summary>The course of steady wear for some values, laid out once for many hours.</summary>
    public WearCourse CourseOf(double[] theta)
    {
        var (starts, rates) = Path(theta);
        return new WearCourse(theta[AtFittingAt], knotsWornH, starts, rates, Shared.Early, Shared.Late);
    }

    /// <summary>How far strain alone moves ln rate at first.</summary>
    public double ExpectedAtFirst => expected[0];

    /// <summary>The same for other effects.</summary>
    public double AtFirst(Strain effects) => strains[0].Times(effects);

    /// <summary>How far strain alone moves ln rate of late from what it was on average in the last stretch.</summary>
    public double StrainOfLate => recent.Less(strains[^1]).Times(Shared.Strains);

    /// <summary>How far each strain of late moves ln rate from the fleet's mean.</summary>
    public Strain StrainsOfLate => new(recent.Speed * Shared.Strains.Speed, recent.Heat * Shared.Strains.Heat, recent.Oil * Shared.Strains.Oil);

    /// <summary>Slope and curvature (negative) of the log evidence by the effects of strain and, last, by the level of ln rate of the pump's model.</summary>
    /// <remarks>Effects move only what is expected of ln rate beforehand, so both are exact but for Laplace's approximation.</remarks>
    public (double[] Slope, double[,] Curvature) StrainEvidence()
    {
        const int count = VaneWear.Strain.Count + 1;
        var slope = new double[count];
        var curvature = new double[count, count];
        var rows = new double[knotsH.Length + 1][];
        var precisions = new double[knotsH.Length + 1];
        for (var p = 0; p <= knotsH.Length; p++)
        {
            var difference = p == 0 ? strains[0] : strains[p].Less(strains[p - 1]);
            rows[p] = [difference.Speed, difference.Heat, difference.Oil, p == 0 ? 1 : 0];
            precisions[p] = p == 0 ? 1 / Priors.LogRate.Variance : knotTrusts[p - 1] / (knotVariances[p - 1] * Shared.WanderPer1000H);
        }

        for (var p = 0; p <= knotsH.Length; p++)
        {
            var far = Theta[RateAt + p] - expected[p] - (p == 0 ? Priors.LogRate.Mean : 0);
            for (var a = 0; a < count; a++)
            {
                slope[a] += rows[p][a] * precisions[p] * far;
                for (var q = 0; q <= knotsH.Length; q++)
                {
                    var known = (p == q ? precisions[p] : 0) - (precisions[p] * Covariance[RateAt + p, RateAt + q] * precisions[q]);
                    for (var b = 0; b < count; b++)
                    {
                        curvature[a, b] += rows[p][a] * known * rows[q][b];
                    }
                }
            }
        }

        return (slope, curvature);
    }

    /// <summary>Wear after so many hours since fitting for some values.</summary>
    public double WearAt(double[] theta, double hoursH) => CourseOf(theta).At(hoursH);

    /// <summary>Estimated size of a step, as a change of ln net flow, and its standard error.</summary>
    public (double Change, double Se) Step(int index)
    {
        var at = FirstStepAt + index;
        return (Theta[at], Math.Sqrt(Covariance[at, at]));
    }

    /// <summary>By how much ln displaced flow has changed since the first knot, and its standard error.</summary>
    public (double Change, double Se) FlowChange()
    {
        var change = 0.0;
        var variance = 0.0;
        for (var k = 0; k < knotsH.Length; k++)
        {
            change += Theta[FirstFlowAt + k];
            for (var l = 0; l < knotsH.Length; l++)
            {
                variance += Covariance[FirstFlowAt + k, FirstFlowAt + l];
            }
        }

        return (change, Math.Sqrt(Math.Max(0, variance)));
    }

    /// <summary>What the fit leaves of each bin of a channel, and the bin's own standard error.</summary>
    public IEnumerable<(double Residual, double Sd)> Residuals(WearChannel channel)
    {
        var residuals = RawResiduals(Theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            if (life.Bins[i].Channel == channel)
            {
                yield return (residuals[i], life.Bins[i].Sd);
            }
        }
    }

    /// <summary>The same of net flow and of tightness where a bin has both, each over its standard deviation.</summary>
    public IEnumerable<(double NetFlow, double Tightness)> PairedResiduals()
    {
        var residuals = RawResiduals(Theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            if (binPartners[i] is >= 0 and var partner)
            {
                yield return (residuals[i] / Math.Sqrt(BinVariance(i)), residuals[partner] / Math.Sqrt(BinVariance(partner)));
            }
        }
    }

    /// <summary>
    /// Changes at the knots, of ln rate or of ln displaced flow: mean square (with what is not known of it), by the hours that each stands for in thousands, and how far each is
    /// trusted to be of the ordinary.
    /// </summary>
    public IEnumerable<(double MeanSquare, double Thousands, double Trust)> Changes(bool ofFlow)
    {
        for (var k = 0; k < knotsH.Length; k++)
        {
            var at = (ofFlow ? FirstFlowAt : FirstKnotAt) + k;
            var change = ofFlow ? Theta[at] : Theta[at] - expected[k + 1];
            yield return ((change * change) + Covariance[at, at], knotVariances[k], ofFlow ? flowTrusts[k] : knotTrusts[k]);
        }
    }

    private (double[] AtH, double[] Variances) Knots()
    {
        if (options.RateWanderSd == 0 || !life.HasObservations)
        {
            return ([], []);
        }

        var atH = new List<double>();
        var variances = new List<double>();
        var spanH = life.NowH - life.FirstH;
        if (life.FirstH > KnotH)
        {
            atH.Add(life.FirstH);
            variances.Add(Math.Min(life.FirstH, MostUnseenH) / 1000);
        }

        var count = Math.Min(MostKnots, (int)(spanH / KnotH) - 1);
        for (var k = 1; k <= count; k++)
        {
            atH.Add(life.FirstH + (spanH * k / (count + 1)));
            variances.Add(spanH / (count + 1) / 1000);
        }

        return ([.. atH], [.. variances]);
    }

    // Segment 0 is before the first knot.
    private int SegmentAt(double hoursH)
    {
        var segment = 0;
        while (segment < knotsH.Length && hoursH > knotsH[segment])
        {
            segment++;
        }

        return segment;
    }

    // Steady wear gained up to the start of each segment, and the rate in it.
    private (double[] Starts, double[] Rates) Path(double[] theta)
    {
        var starts = new double[knotsH.Length + 1];
        var rates = new double[knotsH.Length + 1];
        var log = theta[RateAt];
        rates[0] = Math.Exp(log);
        for (var k = 0; k < knotsH.Length; k++)
        {
            starts[k + 1] = starts[k] + (rates[k] * (knotsWornH[k] - (k == 0 ? 0 : knotsWornH[k - 1])));
            log += theta[FirstKnotAt + k];
            rates[k + 1] = Math.Exp(Math.Min(log, 5));
        }

        return (starts, rates);
    }

    private double SteadyAt(double[] theta, double[] starts, double[] rates, int segment, double wornH) =>
        theta[AtFittingAt] + starts[segment] + (rates[segment] * (wornH - (segment == 0 ? 0 : knotsWornH[segment - 1])));

    private double Expected(double[] theta, double[] starts, double[] rates, int i)
    {
        var bin = life.Bins[i];
        var (wear, _) = Shared.Late.At(SteadyAt(theta, starts, rates, binSegments[i], binsWornH[i]));
        var asNew = bin.Channel == WearChannel.NetFlow ? theta[NetFlowAt] : theta[TightnessAt];
        var steps = 0.0;
        var firstStep = FirstStep(bin.Channel);
        for (var s = 0; s < bin.StepsBefore; s++)
        {
            steps += theta[firstStep + s];
        }

        for (var k = 0; bin.Channel == WearChannel.NetFlow && k < binSegments[i]; k++)
        {
            steps += theta[FirstFlowAt + k];
        }

        return asNew + Math.Log(Math.Max(LeastKept, 1 - (LossOf(theta) * wear))) + Shared.Weather(bin) + steps;
    }

    private int FirstFlowAt => FirstKnotAt + knotsH.Length;

    private int FirstStepAt => FirstKnotAt + (2 * knotsH.Length);

    private int FirstStep(WearChannel channel) => FirstStepAt + (channel == WearChannel.NetFlow ? 0 : life.Steps.Steps.Length);

    private double LossOf(double[] theta) => life.Range * Math.Exp(theta[LossAt]);

    private double BinVariance(int i) => Square(life.Bins[i].Sd) + Shared.VarianceOf(life.Bins[i].Channel);

    // Of two readings of the same checks the second says less that is new: net flow less what was to be expected of it after tightness, and the variance of that.
    private double Share(int i) => binPartners[i] < 0 ? 0 : Shared.Correlation * Math.Sqrt(BinVariance(i) / BinVariance(binPartners[i]));

    private double OwnVariance(int i) => BinVariance(i) * (binPartners[i] < 0 ? 1 : 1 - Square(Shared.Correlation));

    private double[] RawResiduals(double[] theta)
    {
        var (starts, rates) = Path(theta);
        var residuals = new double[life.Bins.Length];
        for (var i = 0; i < residuals.Length; i++)
        {
            residuals[i] = life.Bins[i].Value - Expected(theta, starts, rates, i);
        }

        return residuals;
    }

    private double Own(double[] residuals, int i) => binPartners[i] < 0 ? residuals[i] : residuals[i] - (Share(i) * residuals[binPartners[i]]);

    // Net flow's bins with tightness of the same checks.
    private int[] Partners()
    {
        var partners = Enumerable.Repeat(-1, life.Bins.Length).ToArray();
        var next = 0;
        for (var i = 0; i < partners.Length; i++)
        {
            if (life.Bins[i].Channel != WearChannel.NetFlow)
            {
                continue;
            }

            while (next < partners.Length && (life.Bins[next].Channel != WearChannel.Tightness || life.Bins[next].HoursH < life.Bins[i].HoursH - PairedWithinH))
            {
                next++;
            }

            if (next < partners.Length && life.Bins[next].HoursH <= life.Bins[i].HoursH + PairedWithinH && life.Bins[next].StepsBefore == life.Bins[i].StepsBefore)
            {
                partners[i] = next++;
            }
        }

        return partners;
    }

    private double WidthWear(double[] theta, double[] starts, double[] rates, int i) =>
        Shared.Late.At(SteadyAt(theta, starts, rates, widthSegments[i], widthsWornH[i])).Wear;

    private void Reweight()
    {
        var (starts, rates) = Path(Theta);
        var residuals = RawResiduals(Theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            trusts[i] = Trust(Own(residuals, i), Math.Sqrt(OwnVariance(i)));
        }

        for (var i = 0; i < life.Widths.Length; i++)
        {
            trusts[life.Bins.Length + i] = Trust(life.Widths[i].Wear - WidthWear(Theta, starts, rates, i), life.Widths[i].Sd);
        }

        for (var k = 0; k < knotsH.Length; k++)
        {
            knotTrusts[k] = (Dof + 1) / (Dof + (Square(Theta[FirstKnotAt + k] - expected[k + 1]) / (knotVariances[k] * Shared.WanderPer1000H)));
            flowTrusts[k] = (Dof + 1) / (Dof + (Square(Theta[FirstFlowAt + k]) / (knotVariances[k] * Shared.FlowPer1000H)));
        }

        static double Trust(double residual, double sd) => Math.Min(1, HuberScale * sd / Math.Max(1e-12, Math.Abs(residual)));
    }

    // Minus the logarithm of the joint density for the weights as they stand, up to a constant.
    private double Objective(double[] theta)
    {
        var (starts, rates) = Path(theta);
        var sum = Term(theta[NetFlowAt], Priors.NetFlow) + Term(theta[TightnessAt], Priors.Tightness) + Term(theta[RateAt] - expected[0], Priors.LogRate) + Term(theta[LossAt], Priors.LogLoss)
            + Square(theta[AtFittingAt] / options.WearAtFittingSd);
        var residuals = RawResiduals(theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            sum += trusts[i] * Square(Own(residuals, i)) / OwnVariance(i);
        }

        for (var i = 0; i < life.Widths.Length; i++)
        {
            sum += trusts[life.Bins.Length + i] * Square((life.Widths[i].Wear - WidthWear(theta, starts, rates, i)) / life.Widths[i].Sd);
        }

        for (var k = 0; k < knotsH.Length; k++)
        {
            sum += knotTrusts[k] * Square(theta[FirstKnotAt + k] - expected[k + 1]) / (knotVariances[k] * Shared.WanderPer1000H);
            sum += flowTrusts[k] * Square(theta[FirstFlowAt + k]) / (knotVariances[k] * Shared.FlowPer1000H);
        }

        for (var s = FirstStepAt; s < size; s++)
        {
            sum += Square(theta[s] / StepSd);
        }

        return sum / 2;

        static double Term(double value, NormalPrior prior) => Square(value - prior.Mean) / prior.Variance;
    }

    private double LogScales()
    {
        var sum = (Math.Log(Priors.NetFlow.Variance) + Math.Log(Priors.Tightness.Variance) + Math.Log(Priors.LogRate.Variance) + Math.Log(Priors.LogLoss.Variance)) / 2;
        for (var i = 0; i < life.Bins.Length; i++)
        {
            sum += Math.Log(OwnVariance(i)) / 2;
        }

        for (var k = 0; k < knotsH.Length; k++)
        {
            sum += (Math.Log(knotVariances[k] * Shared.WanderPer1000H) + Math.Log(knotVariances[k] * Shared.FlowPer1000H)) / 2;
        }

        return sum;
    }

    private (double[,] Information, double[] Gradient) Equations(double[] theta)
    {
        var (starts, rates) = Path(theta);
        var information = new double[size, size];
        var gradient = new double[size];
        var loss = LossOf(theta);
        var row = new double[size];
        AddPrior(NetFlowAt, Priors.NetFlow.Mean, Priors.NetFlow.Variance);
        AddPrior(TightnessAt, Priors.Tightness.Mean, Priors.Tightness.Variance);
        AddPrior(AtFittingAt, 0, Square(options.WearAtFittingSd));
        AddPrior(RateAt, Priors.LogRate.Mean + expected[0], Priors.LogRate.Variance);
        AddPrior(LossAt, Priors.LogLoss.Mean, Priors.LogLoss.Variance);
        for (var k = 0; k < knotsH.Length; k++)
        {
            AddPrior(FirstKnotAt + k, expected[k + 1], knotVariances[k] * Shared.WanderPer1000H / knotTrusts[k]);
            AddPrior(FirstFlowAt + k, 0, knotVariances[k] * Shared.FlowPer1000H / flowTrusts[k]);
        }

        for (var s = FirstStepAt; s < size; s++)
        {
            AddPrior(s, 0, Square(StepSd));
        }

        var residuals = RawResiduals(theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            Array.Clear(row);
            AddBin(i, 1);
            if (binPartners[i] is >= 0 and var partner)
            {
                AddBin(partner, -Share(i));
            }

            AddRow(Own(residuals, i), trusts[i] / OwnVariance(i));
        }

        for (var i = 0; i < life.Widths.Length; i++)
        {
            Array.Clear(row);
            var steady = SteadyAt(theta, starts, rates, widthSegments[i], widthsWornH[i]);
            var (wear, slope) = Shared.Late.At(steady);
            AddWear(steady, widthSegments[i], slope);
            AddRow(life.Widths[i].Wear - wear, trusts[life.Bins.Length + i] / Square(life.Widths[i].Sd));
        }

        return (information, gradient);

        void AddPrior(int at, double mean, double variance)
        {
            information[at, at] += 1 / variance;
            gradient[at] += (mean - theta[at]) / variance;
        }

        void AddBin(int i, double share)
        {
            var bin = life.Bins[i];
            var steady = SteadyAt(theta, starts, rates, binSegments[i], binsWornH[i]);
            var (wear, slope) = Shared.Late.At(steady);
            var kept = 1 - (loss * wear);
            var factor = kept > LeastKept ? -share * loss / kept : 0;
            AddWear(steady, binSegments[i], factor * slope);
            row[LossAt] += factor * wear;
            row[bin.Channel == WearChannel.NetFlow ? NetFlowAt : TightnessAt] += share;
            var firstStep = FirstStep(bin.Channel);
            for (var s = 0; s < bin.StepsBefore; s++)
            {
                row[firstStep + s] += share;
            }

            for (var k = 0; bin.Channel == WearChannel.NetFlow && k < binSegments[i]; k++)
            {
                row[FirstFlowAt + k] += share;
            }
        }

        void AddWear(double steady, int segment, double factor)
        {
            row[AtFittingAt] += factor;
            row[RateAt] += factor * (steady - theta[AtFittingAt]);
            for (var k = 0; k < segment; k++)
            {
                row[FirstKnotAt + k] += factor * (steady - theta[AtFittingAt] - starts[k + 1]);
            }
        }

        void AddRow(double residual, double weight)
        {
            for (var a = 0; a < size; a++)
            {
                if (row[a] == 0)
                {
                    continue;
                }

                var weighted = weight * row[a];
                gradient[a] += weighted * residual;
                for (var b = 0; b <= a; b++)
                {
                    information[a, b] += weighted * row[b];
                }
            }
        }
    }

    private static double Square(double x) => x * x;
}
