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

/// <summary>What the readings of one life are expected to be for some values of its parameters (theta), and how they move with them.</summary>
internal sealed class LifeReadings
{
    public const int NetFlowAt = 0;
    public const int TightnessAt = 1;
    public const int AtFittingAt = 2;
    public const int LossAt = 3;
    public const int RateAt = 4;
    public const int FirstKnotAt = 5;

    private const int MostKnots = 8;
    private const double KnotH = 100;

    // Hours unseen before the first check wander no further than this many would: what matters there is the mean rate.
    private const double MostUnseenH = 400;
    private const double LeastKept = 0.03;

    // Bins of the two channels so close in time are of the same checks.
    private const double PairedWithinH = 10;

    private readonly WearLife life;
    private readonly int[] binSegments;
    private readonly int[] binPartners;
    private readonly int[] widthSegments;
    private double[] binsWornH = [];
    private double[] widthsWornH = [];

    public LifeReadings(WearLife life, SharedWear shared, bool wanders)
    {
        this.life = life;
        (KnotsH, KnotVariances) = wanders && life.HasObservations ? Knots() : ([], []);
        binSegments = [.. life.Bins.Select(b => SegmentAt(b.HoursH))];
        binPartners = Partners();
        widthSegments = [.. life.Widths.Select(w => SegmentAt(w.HoursH))];
        Shared = shared;
    }

    /// <summary>What all lives share.</summary>
    public SharedWear Shared
    {
        get;
        set
        {
            if (field is null || value.Early != field.Early)
            {
                KnotsWornH = [.. KnotsH.Select(value.Early.WornH)];
                binsWornH = [.. life.Bins.Select(b => value.Early.WornH(b.HoursH))];
                widthsWornH = [.. life.Widths.Select(w => value.Early.WornH(w.HoursH))];
            }

            field = value;
        }
    }

    /// <summary>Hours since fitting at which the rate may change, h.</summary>
    public double[] KnotsH { get; }

    /// <summary>How much each of them may change by, in thousands of hours of wander.</summary>
    public double[] KnotVariances { get; }

    /// <summary>The knots in hours worn, h.</summary>
    public double[] KnotsWornH { get; private set; } = [];

    /// <summary>How many parameters there are.</summary>
    public int Size => FirstStepAt + (2 * life.Steps.Steps.Length);

    public int FirstFlowAt => FirstKnotAt + KnotsH.Length;

    public int FirstStepAt => FirstKnotAt + (2 * KnotsH.Length);

    private int FirstStep(WearChannel channel) => FirstStepAt + (channel == WearChannel.NetFlow ? 0 : life.Steps.Steps.Length);

    public double LossOf(double[] theta) => life.Range * Math.Exp(theta[LossAt]);

    /// <summary>The bin of tightness of the same checks as a bin of net flow; -1 where there is none.</summary>
    public int PartnerOf(int i) => binPartners[i];

    public double BinVariance(int i) => Square(life.Bins[i].Sd) + Shared.VarianceOf(life.Bins[i].Channel);

    // Of two readings of the same checks the second says less that is new: net flow less what was to be expected of it after tightness, and the variance of that.
    private double Share(int i) => binPartners[i] < 0 ? 0 : Shared.Correlation * Math.Sqrt(BinVariance(i) / BinVariance(binPartners[i]));

    public double OwnVariance(int i) => BinVariance(i) * (binPartners[i] < 0 ? 1 : 1 - Square(Shared.Correlation));

    /// <summary>Steady wear gained up to the start of each segment, and the rate in it.</summary>
    public (double[] Starts, double[] Rates) Path(double[] theta)
    {
        var starts = new double[KnotsH.Length + 1];
        var rates = new double[KnotsH.Length + 1];
        var log = theta[RateAt];
        rates[0] = Math.Exp(log);
        for (var k = 0; k < KnotsH.Length; k++)
        {
            starts[k + 1] = starts[k] + (rates[k] * (KnotsWornH[k] - (k == 0 ? 0 : KnotsWornH[k - 1])));
            log += theta[FirstKnotAt + k];
            rates[k + 1] = Math.Exp(Math.Min(log, 5));
        }

        return (starts, rates);
    }

    public double[] Residuals(double[] theta)
    {
        var path = Path(theta);
        var residuals = new double[life.Bins.Length];
        for (var i = 0; i < residuals.Length; i++)
        {
            residuals[i] = life.Bins[i].Value - Expected(theta, path, i);
        }

        return residuals;
    }

    /// <summary>What a bin's residual says that its partner's has not said.</summary>
    public double Own(double[] residuals, int i) => binPartners[i] < 0 ? residuals[i] : residuals[i] - (Share(i) * residuals[binPartners[i]]);

    public double WidthWear(double[] theta, (double[] Starts, double[] Rates) path, int i) =>
        Shared.Late.At(SteadyAt(theta, path, widthSegments[i], widthsWornH[i])).Wear;

    /// <summary>How a bin's own residual's expectation moves with each parameter.</summary>
    public void BinRow(double[] theta, (double[] Starts, double[] Rates) path, int i, double[] row)
    {
        Array.Clear(row);
        AddBin(theta, path, i, 1, row);
        if (binPartners[i] is >= 0 and var partner)
        {
            AddBin(theta, path, partner, -Share(i), row);
        }
    }

    /// <summary>How the wear at a vane width moves with each parameter; returns that wear.</summary>
    public double WidthRow(double[] theta, (double[] Starts, double[] Rates) path, int i, double[] row)
    {
        Array.Clear(row);
        var steady = SteadyAt(theta, path, widthSegments[i], widthsWornH[i]);
        var (wear, slope) = Shared.Late.At(steady);
        AddWear(theta, path, steady, widthSegments[i], slope, row);
        return wear;
    }

    private void AddBin(double[] theta, (double[] Starts, double[] Rates) path, int i, double share, double[] row)
    {
        var bin = life.Bins[i];
        var steady = SteadyAt(theta, path, binSegments[i], binsWornH[i]);
        var (wear, slope) = Shared.Late.At(steady);
        var loss = LossOf(theta);
        var kept = 1 - (loss * wear);
        var factor = kept > LeastKept ? -share * loss / kept : 0;
        AddWear(theta, path, steady, binSegments[i], factor * slope, row);
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

    private static void AddWear(double[] theta, (double[] Starts, double[] Rates) path, double steady, int segment, double factor, double[] row)
    {
        row[AtFittingAt] += factor;
        row[RateAt] += factor * (steady - theta[AtFittingAt]);
        for (var k = 0; k < segment; k++)
        {
            row[FirstKnotAt + k] += factor * (steady - theta[AtFittingAt] - path.Starts[k + 1]);
        }
    }

    private double Expected(double[] theta, (double[] Starts, double[] Rates) path, int i)
    {
        var bin = life.Bins[i];
        var (wear, _) = Shared.Late.At(SteadyAt(theta, path, binSegments[i], binsWornH[i]));
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

    private double SteadyAt(double[] theta, (double[] Starts, double[] Rates) path, int segment, double wornH) =>
        theta[AtFittingAt] + path.Starts[segment] + (path.Rates[segment] * (wornH - (segment == 0 ? 0 : KnotsWornH[segment - 1])));

    private (double[] AtH, double[] Variances) Knots()
    {
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
        while (segment < KnotsH.Length && hoursH > KnotsH[segment])
        {
            segment++;
        }

        return segment;
    }

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

    private static double Square(double x) => x * x;
}
