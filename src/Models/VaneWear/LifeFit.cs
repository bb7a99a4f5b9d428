using MathNet.Numerics.LinearAlgebra;

namespace Vanehour.Models.VaneWear;

/// <summary>
/// The wear of one life as its observations and what is believed of it beforehand make it most likely, with the curvature there (Laplace's approximation).
/// </summary>
/// <remarks>
/// Bins and widths that lie far off weigh less (Huber); a change of rate far out of the ordinary is held less tightly (Student's t by its scale mixture), so that a fault is
/// followed and noise is not. Of net flow only what tightness of the same checks has not said already is counted. [BDA] A. Gelman et al., Bayesian Data Analysis, 3rd edition, 2013, sections 4.1, 13.3 and 17.2.
/// </remarks>
internal sealed class LifeFit
{
    /// <summary>What strained a pump over the last hours is taken to go on, h; of our own.</summary>
    public const double RecentH = 100;

    private const double StepSd = 0.3;
    private const double Dof = 4;
    private const double HuberScale = 2.5;
    private const int MostRounds = 40;
    private const double Settled = 1e-6;

    // The logarithm of a rate further than this from where it was is no step that a quadratic can tell.
    private const double LongestStep = 1.5;

    private readonly WearLife life;
    private readonly WearOptions options;
    private readonly LifeReadings readings;
    private readonly LifeStrain strain;
    private readonly Strain[] strains;
    private readonly Strain recent;
    private readonly double[] trusts;
    private readonly double[] knotTrusts;
    private readonly double[] flowTrusts;
    private double[] expected = [];

    public LifeFit(WearLife life, LifeStrain strain, LifePriors priors, SharedWear shared, WearOptions options)
    {
        this.life = life;
        this.options = options;
        Priors = priors;
        readings = new LifeReadings(life, shared, options.RateWanderSd > 0);
        var knotsH = readings.KnotsH;
        this.strain = strain;
        strains = [.. Enumerable.Range(0, knotsH.Length + 1).Select(s => strain.Mean(s == 0 ? 0 : knotsH[s - 1], s == knotsH.Length ? life.NowH : knotsH[s]))];
        recent = strain.Mean(Math.Max(knotsH.LastOrDefault(), life.NowH - RecentH), life.NowH);
        Shared = shared;
        trusts = [.. Enumerable.Repeat(1.0, life.Bins.Length + life.Widths.Length)];
        knotTrusts = [.. Enumerable.Repeat(1.0, knotsH.Length)];
        flowTrusts = [.. Enumerable.Repeat(1.0, knotsH.Length)];
        Theta = new double[readings.Size];
        Theta[LifeReadings.NetFlowAt] = priors.NetFlow.Mean;
        Theta[LifeReadings.TightnessAt] = priors.Tightness.Mean;
        Theta[LifeReadings.RateAt] = priors.LogRate.Mean;
        Covariance = Matrix<double>.Build.DenseIdentity(readings.Size);
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
            readings.Shared = value;
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
    public double LossAtLimit => readings.LossOf(Theta);

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
            var share = Math.Min(1, LongestStep / Math.Max(1e-12, Enumerable.Range(LifeReadings.RateAt, 1 + KnotCount).Max(i => Math.Abs(step[i]))));
            var moved = 0.0;
            for (var halving = 0; halving < 12; halving++, share /= 2)
            {
                var trial = new double[readings.Size];
                for (var i = 0; i < readings.Size; i++)
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
        var path = readings.Path(theta);
        return new WearCourse(theta[LifeReadings.AtFittingAt], readings.KnotsWornH, path.Starts, path.Rates, Shared.Early, Shared.Late);
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
        var rows = new double[KnotCount + 1][];
        var precisions = new double[KnotCount + 1];
        for (var p = 0; p <= KnotCount; p++)
        {
            var difference = p == 0 ? strains[0] : strains[p].Less(strains[p - 1]);
            rows[p] = [difference.Speed, difference.Heat, difference.Oil, p == 0 ? 1 : 0];
            precisions[p] = p == 0 ? 1 / Priors.LogRate.Variance : knotTrusts[p - 1] / (readings.KnotVariances[p - 1] * Shared.WanderPer1000H);
        }

        for (var p = 0; p <= KnotCount; p++)
        {
            var far = Theta[LifeReadings.RateAt + p] - expected[p] - (p == 0 ? Priors.LogRate.Mean : 0);
            for (var a = 0; a < count; a++)
            {
                slope[a] += rows[p][a] * precisions[p] * far;
                for (var q = 0; q <= KnotCount; q++)
                {
                    var known = (p == q ? precisions[p] : 0) - (precisions[p] * Covariance[LifeReadings.RateAt + p, LifeReadings.RateAt + q] * precisions[q]);
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
        var at = readings.FirstStepAt + index;
        return (Theta[at], Math.Sqrt(Covariance[at, at]));
    }

    /// <summary>By how much ln displaced flow has changed since the first knot, and its standard error.</summary>
    public (double Change, double Se) FlowChange()
    {
        var change = 0.0;
        var variance = 0.0;
        for (var k = 0; k < KnotCount; k++)
        {
            change += Theta[readings.FirstFlowAt + k];
            for (var l = 0; l < KnotCount; l++)
            {
                variance += Covariance[readings.FirstFlowAt + k, readings.FirstFlowAt + l];
            }
        }

        return (change, Math.Sqrt(Math.Max(0, variance)));
    }

    /// <summary>What the fit leaves of each bin of a channel, and the bin's own standard error.</summary>
    public IEnumerable<(double Residual, double Sd)> Residuals(WearChannel channel)
    {
        var residuals = readings.Residuals(Theta);
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
        var residuals = readings.Residuals(Theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            if (readings.PartnerOf(i) is >= 0 and var partner)
            {
                yield return (residuals[i] / Math.Sqrt(readings.BinVariance(i)), residuals[partner] / Math.Sqrt(readings.BinVariance(partner)));
            }
        }
    }

    /// <summary>
    /// Changes at the knots, of ln rate or of ln displaced flow: mean square (with what is not known of it), by the hours that each stands for in thousands, and how far each is
    /// trusted to be of the ordinary.
    /// </summary>
    public IEnumerable<(double MeanSquare, double Thousands, double Trust)> Changes(bool ofFlow)
    {
        for (var k = 0; k < KnotCount; k++)
        {
            var at = (ofFlow ? readings.FirstFlowAt : LifeReadings.FirstKnotAt) + k;
            var change = ofFlow ? Theta[at] : Theta[at] - expected[k + 1];
            yield return ((change * change) + Covariance[at, at], readings.KnotVariances[k], ofFlow ? flowTrusts[k] : knotTrusts[k]);
        }
    }

    private void Reweight()
    {
        var path = readings.Path(Theta);
        var residuals = readings.Residuals(Theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            trusts[i] = Trust(readings.Own(residuals, i), Math.Sqrt(readings.OwnVariance(i)));
        }

        for (var i = 0; i < life.Widths.Length; i++)
        {
            trusts[life.Bins.Length + i] = Trust(life.Widths[i].Wear - readings.WidthWear(Theta, path, i), life.Widths[i].Sd);
        }

        for (var k = 0; k < KnotCount; k++)
        {
            knotTrusts[k] = (Dof + 1) / (Dof + (Square(Theta[LifeReadings.FirstKnotAt + k] - expected[k + 1]) / (readings.KnotVariances[k] * Shared.WanderPer1000H)));
            flowTrusts[k] = (Dof + 1) / (Dof + (Square(Theta[readings.FirstFlowAt + k]) / (readings.KnotVariances[k] * Shared.FlowPer1000H)));
        }

        static double Trust(double residual, double sd) => Math.Min(1, HuberScale * sd / Math.Max(1e-12, Math.Abs(residual)));
    }

    // Minus the logarithm of the joint density for the weights as they stand, up to a constant.
    private double Objective(double[] theta)
    {
        var path = readings.Path(theta);
        var sum = Term(theta[LifeReadings.NetFlowAt], Priors.NetFlow) + Term(theta[LifeReadings.TightnessAt], Priors.Tightness) + Term(theta[LifeReadings.RateAt] - expected[0], Priors.LogRate) + Term(theta[LifeReadings.LossAt], Priors.LogLoss)
            + Square(theta[LifeReadings.AtFittingAt] / options.WearAtFittingSd);
        var residuals = readings.Residuals(theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            sum += trusts[i] * Square(readings.Own(residuals, i)) / readings.OwnVariance(i);
        }

        for (var i = 0; i < life.Widths.Length; i++)
        {
            sum += trusts[life.Bins.Length + i] * Square((life.Widths[i].Wear - readings.WidthWear(theta, path, i)) / life.Widths[i].Sd);
        }

        for (var k = 0; k < KnotCount; k++)
        {
            sum += knotTrusts[k] * Square(theta[LifeReadings.FirstKnotAt + k] - expected[k + 1]) / (readings.KnotVariances[k] * Shared.WanderPer1000H);
            sum += flowTrusts[k] * Square(theta[readings.FirstFlowAt + k]) / (readings.KnotVariances[k] * Shared.FlowPer1000H);
        }

        for (var s = readings.FirstStepAt; s < readings.Size; s++)
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
            sum += Math.Log(readings.OwnVariance(i)) / 2;
        }

        for (var k = 0; k < KnotCount; k++)
        {
            sum += (Math.Log(readings.KnotVariances[k] * Shared.WanderPer1000H) + Math.Log(readings.KnotVariances[k] * Shared.FlowPer1000H)) / 2;
        }

        return sum;
    }

    private (double[,] Information, double[] Gradient) Equations(double[] theta)
    {
        var path = readings.Path(theta);
        var information = new double[readings.Size, readings.Size];
        var gradient = new double[readings.Size];
        var row = new double[readings.Size];
        AddPrior(LifeReadings.NetFlowAt, Priors.NetFlow.Mean, Priors.NetFlow.Variance);
        AddPrior(LifeReadings.TightnessAt, Priors.Tightness.Mean, Priors.Tightness.Variance);
        AddPrior(LifeReadings.AtFittingAt, 0, Square(options.WearAtFittingSd));
        AddPrior(LifeReadings.RateAt, Priors.LogRate.Mean + expected[0], Priors.LogRate.Variance);
        AddPrior(LifeReadings.LossAt, Priors.LogLoss.Mean, Priors.LogLoss.Variance);
        for (var k = 0; k < KnotCount; k++)
        {
            AddPrior(LifeReadings.FirstKnotAt + k, expected[k + 1], readings.KnotVariances[k] * Shared.WanderPer1000H / knotTrusts[k]);
            AddPrior(readings.FirstFlowAt + k, 0, readings.KnotVariances[k] * Shared.FlowPer1000H / flowTrusts[k]);
        }

        for (var s = readings.FirstStepAt; s < readings.Size; s++)
        {
            AddPrior(s, 0, Square(StepSd));
        }

        var residuals = readings.Residuals(theta);
        for (var i = 0; i < life.Bins.Length; i++)
        {
            readings.BinRow(theta, path, i, row);
            AddRow(readings.Own(residuals, i), trusts[i] / readings.OwnVariance(i));
        }

        for (var i = 0; i < life.Widths.Length; i++)
        {
            var wear = readings.WidthRow(theta, path, i, row);
            AddRow(life.Widths[i].Wear - wear, trusts[life.Bins.Length + i] / Square(life.Widths[i].Sd));
        }

        return (information, gradient);

        void AddPrior(int at, double mean, double variance)
        {
            information[at, at] += 1 / variance;
            gradient[at] += (mean - theta[at]) / variance;
        }

        void AddRow(double residual, double weight)
        {
            for (var a = 0; a < readings.Size; a++)
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

    private int KnotCount => readings.KnotsH.Length;

    private static double Square(double x) => x * x;
}
