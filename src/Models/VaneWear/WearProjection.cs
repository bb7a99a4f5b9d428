using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Vanehour.Models.VaneWear;

/// <summary>Draws of wear carried forward to the limit, in hours and, week by week, in dates.</summary>
internal sealed record WearProjection(HourQuantiles Hours, DateQuantiles Dates, ImmutableArray<WearFanPoint> Ahead)
{
    private const double DaysInWeek = 7;

    // The fan reaches at least nine months ahead, where a chart of a year has room for it; a later 90 % date takes it there in steps of four weeks.
    private const int WeeklyWeeks = 39;
    private const int CoarseStep = 4;

    public static WearProjection Run(WearDraw[] draws, double nowH, DateTimeOffset asOf, Usage usage, WearOptions options, Random random)
    {
        // Lognormal with mean 1: the rate from now on about the rate so far.
        var ahead = draws.Select(d => d.RatePer1000H / 1000 * Math.Exp(
            (options.RateChangeSd * Normal.Sample(random, 0, 1)) - (options.RateChangeSd * options.RateChangeSd / 2))).ToArray();
        var now = draws.Select(d => d.At(nowH)).ToArray();
        var needH = now.Select((wear, i) => wear >= 1 ? 0 : ahead[i] > 0 ? (1 - wear) / ahead[i] : double.PositiveInfinity).ToArray();
        var (dates, fan) = usage.HoursPerDay is null
            ? (Enumerable.Repeat(double.PositiveInfinity, draws.Length).ToArray(), ImmutableArray<WearFanPoint>.Empty)
            : ByWeeks(now, ahead, needH, nowH, asOf, usage, options, random);

        var (h10, h50, h90) = Quantiles.TenFiftyNinety(needH);
        var (d10, d50, d90) = Quantiles.TenFiftyNinety(dates);
        var hours = new HourQuantiles(Within(h10, options.HorizonH), Within(h50, options.HorizonH), Within(h90, options.HorizonH));
        var date = new DateQuantiles(Date(d10), Date(d50), Date(d90));
        var last = asOf.AddDays(DaysInWeek * WeeklyWeeks);
        var end = date.P90 > last ? date.P90.Value.AddDays(DaysInWeek * CoarseStep) : date.P90 is null ? DateTimeOffset.MaxValue : last;
        return new WearProjection(hours, date, [.. fan.TakeWhile(p => p.At <= end)]);

        DateTimeOffset? Date(double days) => Within(days, options.HorizonDays) is { } inside ? asOf.AddDays(inside) : null;
    }

    private static double? Within(double value, double horizon) => value <= horizon ? value : null;

    private static (double[] Days, ImmutableArray<WearFanPoint> Fan) ByWeeks(
        double[] now, double[] ahead, double[] needH, double nowH, DateTimeOffset asOf, Usage usage, WearOptions options, Random random)
    {
        var days = needH.Select(h => h <= 0 ? 0 : double.PositiveInfinity).ToArray();
        var doneH = new double[now.Length];
        var fan = ImmutableArray.CreateBuilder<WearFanPoint>();
        fan.Add(Point(0));
        for (var week = 0; week * DaysInWeek < options.HorizonDays; week++)
        {
            for (var i = 0; i < doneH.Length; i++)
            {
                var weekH = usage.WeeksH[random.Next(usage.WeeksH.Count)];
                if (doneH[i] < needH[i] && doneH[i] + weekH >= needH[i])
                {
                    days[i] = DaysInWeek * (week + ((needH[i] - doneH[i]) / weekH));
                }

                doneH[i] += weekH;
            }

            var weeks = week + 1;
            if (weeks <= WeeklyWeeks || weeks % CoarseStep == 0)
            {
                fan.Add(Point(weeks));
            }
        }

        return (days, fan.ToImmutable());

        WearFanPoint Point(int weeks)
        {
            var (low, mid, high) = Quantiles.TenFiftyNinety([.. now.Select((wear, i) => wear + (ahead[i] * doneH[i]))]);
            return new WearFanPoint(asOf.AddDays(DaysInWeek * weeks), nowH + doneH.Average(), low, mid, high);
        }
    }
}
