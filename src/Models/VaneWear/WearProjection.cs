using System.Collections.Immutable;

namespace Vanehour.Models.VaneWear;

/// <summary>Draws of wear carried forward to the limit, in hours and, by weeks drawn from the truck's past ones, in dates.</summary>
internal sealed record WearProjection(
    HourQuantiles Hours, DateQuantiles Dates, ImmutableArray<WearFanPoint> Ahead, ImmutableArray<LimitChance> Chances, double? NarrowedByWidth, LearnedShare? Learned)
{
    private const double DaysInWeek = 7;

    // The fan reaches at least nine months ahead, where a chart of a year has room for it; a later 90 % date takes it there in steps of four weeks.
    private const int WeeklyWeeks = 39;
    private const int CoarseStep = 4;
    private const int ChanceWeeks = 104;
    private const int WeeklyChances = 26;
    private const double GoldenRatio = 0.618033988749895;

    private const int UsagePaths = 200;
    private const int FanDraws = 300;

    // The rate wanders on in steps that grow: what it does far ahead matters little.
    private static readonly double[] StepsH = [100, 100, 150, 200, 250, 300, 400, 500, 700, 1000, 1400, 2000, 3000];
    private const double Dof = 4;
    private const double WildestStep = 4;

    public static WearProjection Run(
        WearDraws draws,
        EarlyCurve early,
        IReadOnlyList<(double SpeedUp, double Weight)> late,
        double wanderPer1000H,
        double nowH,
        DateTimeOffset asOf,
        Usage usage,
        double? widthSd,
        LearnedHours? learned,
        WearOptions options,
        Random random)
    {
        var paths = new Path[draws.Count];
        for (var i = 0; i < paths.Length; i++)
        {
            paths[i] = Path.Draw(draws.NowWear[i], draws.LogRateNow[i], nowH, early, Late(late, random.NextDouble()), wanderPer1000H, random);
        }

        var needH = paths.Select(p => p.HoursToLimit()).ToArray();
        var said = learned is null ? null : Stretched(learned, paths, needH);
        var weeks = usage.HoursPerDay is null ? null : usage.Ahead((int)Math.Ceiling(options.HorizonDays / DaysInWeek), UsagePaths, random);
        var days = needH.Select((h, i) => weeks is null ? double.PositiveInfinity : Days(h, weeks[i % weeks.Length])).ToArray();
        var narrowed = widthSd is { } sd ? NarrowedBy(draws.NowWear, needH, sd) : (double?)null;
        ImmutableArray<LimitChance> chances = weeks is null ? [] : ChancesBy(days, FailureDays(paths, weeks, options.FailureMargin), asOf);
        var (h10, h50, h90) = Quantiles.TenFiftyNinety((double[])needH.Clone());
        var (d10, d50, d90) = Quantiles.TenFiftyNinety(days);
        var hours = new HourQuantiles(Within(h10, options.HorizonH), Within(h50, options.HorizonH), Within(h90, options.HorizonH));
        var dates = new DateQuantiles(Date(d10), Date(d50), Date(d90));
        return new WearProjection(hours, dates, weeks is null ? [] : Fan(paths, weeks, nowH, asOf, dates, options), chances, narrowed, said);

        DateTimeOffset? Date(double d) => Within(d, options.HorizonDays) is { } inside ? asOf.AddDays(inside) : null;
    }

    private static LateCurve Late(IReadOnlyList<(double SpeedUp, double Weight)> late, double u)
    {
        var sum = 0.0;
        var total = late.Sum(l => l.Weight);
        foreach (var (speedUp, weight) in late)
        {
            sum += weight / total;
            if (u < sum)
            {
                return new LateCurve(speedUp);
            }
        }

        return new LateCurve(late[^1].SpeedUp);
    }

    /// <summary>Hours to the limit of some draws, without dates: 10, 50 and 90 % quantiles, infinite where a draw never comes there.</summary>
    public static (double P10, double P50, double P90) HoursOf(
        WearDraws draws, double nowH, EarlyCurve early, IReadOnlyList<(double SpeedUp, double Weight)> late, double wanderPer1000H, Random random) =>
        Quantiles.TenFiftyNinety([.. Enumerable.Range(0, draws.Count)
            .Select(i => Path.Draw(draws.NowWear[i], draws.LogRateNow[i], nowH, early, Late(late, random.NextDouble()), wanderPer1000H, random).HoursToLimit())]);

    // Each draw goes its way faster or slower, so that hours, dates and the fan say the same.
    private static LearnedShare? Stretched(LearnedHours learned, Path[] paths, double[] needH)
    {
        var (h10, h50, h90) = Quantiles.TenFiftyNinety((double[])needH.Clone());
        if (learned.About(h10, h50, h90) is not { } said)
        {
            return null;
        }

        var map = new QuantileMap((h10, said.P10), (h50, said.P50), (h90, said.P90));
        for (var i = 0; i < paths.Length; i++)
        {
            if (needH[i] > 0 && double.IsFinite(needH[i]))
            {
                var to = map.Of(needH[i]);
                paths[i] = paths[i] with { Stretch = to / needH[i] };
                needH[i] = to;
            }
        }

        return said.Share;
    }

    private static double? Within(double value, double horizon) => value <= horizon ? value : null;

    private static double Days(double needH, double[] weeks)
    {
        if (needH <= 0)
        {
            return 0;
        }

        var at = Array.BinarySearch(weeks, needH);
        var week = at < 0 ? ~at : FirstEqual(weeks, at);
        return week >= weeks.Length ? double.PositiveInfinity : DaysInWeek * (week - 1 + ((needH - weeks[week - 1]) / (weeks[week] - weeks[week - 1])));

        static int FirstEqual(double[] weeks, int at)
        {
            while (at > 1 && weeks[at - 1] == weeks[at])
            {
                at--;
            }

            return at;
        }
    }

    // How far past the limit a pump goes before it fails: chance 1 - exp(-((wear - 1)/margin)^2), of one that runs, given that it has come so far. Spread evenly over the draws.
    private static double[] FailureDays(Path[] paths, double[][] weeks, double margin) =>
    [
        .. paths.Select((path, i) =>
        {
            var over = Math.Max(0, path.NowWear - 1) / margin;
            var u = (GoldenRatio * (i + 1)) % 1;
            var failsAt = 1 + (margin * Math.Sqrt((over * over) - Math.Log(1 - u)));
            return Days(path.Stretch * path.HoursTo(failsAt), weeks[i % weeks.Length]);
        }),
    ];

    private static ImmutableArray<LimitChance> ChancesBy(double[] days, double[] failureDays, DateTimeOffset asOf)
    {
        var limit = days.Order().ToArray();
        var failure = failureDays.Order().ToArray();
        return
        [
            .. Enumerable.Range(0, ChanceWeeks + 1)
                .Where(week => week <= WeeklyChances || (week - WeeklyChances) % CoarseStep == 0 || week == ChanceWeeks)
                .Select(week => new LimitChance(asOf.AddDays(DaysInWeek * week), Share(limit, DaysInWeek * week), Share(failure, DaysInWeek * week))),
        ];

        static double Share(double[] sorted, double most)
        {
            var at = Array.FindIndex(sorted, d => d > most);
            return (at < 0 ? sorted.Length : at) / (double)sorted.Length;
        }
    }

    // The interval that would be left if the width came out where wear is likeliest: draws weighed by how well they would agree with it.
    private static double? NarrowedBy(double[] nowWear, double[] needH, double widthSd)
    {
        var middle = Quantiles.Of([.. nowWear.Order()], 0.5);
        var rows = needH.Zip(nowWear, (hours, wear) => (Hours: hours, Weight: Math.Exp(-(wear - middle) * (wear - middle) / (2 * widthSd * widthSd)))).OrderBy(r => r.Hours).ToList();
        var total = rows.Sum(r => r.Weight);
        var before = At(_ => 1, rows.Count, 0.9) - At(_ => 1, rows.Count, 0.1);
        var after = At(r => r.Weight, total, 0.9) - At(r => r.Weight, total, 0.1);
        return before > 0 && double.IsFinite(before) && double.IsFinite(after) ? Math.Min(1, after / before) : null;

        double At(Func<(double Hours, double Weight), double> weight, double all, double p)
        {
            var sum = 0.0;
            foreach (var row in rows)
            {
                sum += weight(row);
                if (sum >= p * all)
                {
                    return row.Hours;
                }
            }

            return rows[^1].Hours;
        }
    }

    private static ImmutableArray<WearFanPoint> Fan(Path[] paths, double[][] weeks, double nowH, DateTimeOffset asOf, DateQuantiles dates, WearOptions options)
    {
        var last = asOf.AddDays(DaysInWeek * WeeklyWeeks);
        var end = dates.P90 > last ? dates.P90.Value.AddDays(DaysInWeek * CoarseStep) : dates.P90 is null ? asOf.AddDays(options.HorizonDays) : last;
        var count = Math.Min(FanDraws, paths.Length);
        var fan = ImmutableArray.CreateBuilder<WearFanPoint>();
        for (var week = 0; week < weeks[0].Length && asOf.AddDays(DaysInWeek * week) <= end; week += week < WeeklyWeeks ? 1 : CoarseStep)
        {
            var wear = new double[count];
            for (var i = 0; i < count; i++)
            {
                wear[i] = paths[i].WearAfter(weeks[i % weeks.Length][week]);
            }

            var (low, mid, high) = Quantiles.TenFiftyNinety(wear);
            fan.Add(new WearFanPoint(asOf.AddDays(DaysInWeek * week), nowH + weeks.Average(w => w[week]), low, mid, high));
        }

        return fan.ToImmutable();
    }

    /// <summary>One way that wear may go on.</summary>
    private readonly record struct Path(double NowWear, double NowH, EarlyCurve Early, LateCurve Curve, double[] Rates)
    {
        /// <summary>How many hours one hour of the draw takes.</summary>
        public double Stretch { get; init; } = 1;

        public static Path Draw(double nowWear, double logRate, double nowH, EarlyCurve early, LateCurve late, double wanderPer1000H, Random random)
        {
            var rates = new double[StepsH.Length + 1];
            var log = logRate;
            for (var i = 0; i <= StepsH.Length; i++)
            {
                if (wanderPer1000H > 0)
                {
                    var stepH = StepsH[Math.Min(i, StepsH.Length - 1)];

                    // Student's t by Bailey's polar form: sqrt(n (u^(-2/n) - 1)) cos(2 pi v). [Bailey] R. W. Bailey, Mathematics of Computation 62 (1994) 779.
                    var t = Math.Sqrt(Dof * (Math.Pow(1 - random.NextDouble(), -2 / Dof) - 1)) * Math.Cos(2 * Math.PI * random.NextDouble());
                    log += Math.Clamp(t, -WildestStep, WildestStep) * Math.Sqrt(wanderPer1000H * stepH / 1000);
                }

                rates[i] = Math.Exp(Math.Min(log, 5));
            }

            return new Path(nowWear, nowH, early, late, rates);
        }

        public double HoursToLimit() => HoursTo(1);

        public double HoursTo(double wear)
        {
            if (NowWear >= wear)
            {
                return 0;
            }

            var left = Curve.Inverse(wear) - Curve.Inverse(NowWear);
            var hours = 0.0;
            for (var i = 0; i < StepsH.Length; i++)
            {
                if (Rates[i] * StepsH[i] >= left)
                {
                    return Early.HoursFor(NowH, hours + (left / Rates[i]));
                }

                left -= Rates[i] * StepsH[i];
                hours += StepsH[i];
            }

            return Early.HoursFor(NowH, hours + (left / Rates[^1]));
        }

        public double WearAfter(double hoursH)
        {
            var steady = Curve.Inverse(NowWear);
            var wornH = Early.WornH(NowH + (hoursH / Stretch)) - Early.WornH(NowH);
            for (var i = 0; i < StepsH.Length; i++)
            {
                if (wornH <= StepsH[i])
                {
                    return Curve.At(steady + (Rates[i] * wornH)).Wear;
                }

                steady += Rates[i] * StepsH[i];
                wornH -= StepsH[i];
            }

            return Curve.At(steady + (Rates[^1] * wornH)).Wear;
        }
    }
}
