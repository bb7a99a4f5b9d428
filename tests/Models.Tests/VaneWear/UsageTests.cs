using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;
using Xunit.Abstractions;

namespace Vanehour.Models.Tests.VaneWear;

/// <summary>Weeks of trucks with a wave a year, or none, and noise of a quarter.</summary>
public sealed class UsageTests(ITestOutputHelper output)
{
    private static readonly DateTimeOffset AsOf = new(2027, 3, 1, 0, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Season_OfAWholeYear_IsLearned()
    {
        var season = UsageSeason.Learn(Trucks(20, 80, 0.3, 1), AsOf);

        // Highest on 1 July, lowest half a year off.
        Assert.Equal(Math.Exp(0.3), season.At(new DateTimeOffset(2026, 7, 1, 0, 0, 0, TimeSpan.Zero)), 0.05);
        Assert.Equal(Math.Exp(-0.3), season.At(new DateTimeOffset(2027, 1, 1, 0, 0, 0, TimeSpan.Zero)), 0.05);
        Assert.Equal(Math.Exp(0.3), season.Peak, 0.05);
    }

    [Fact]
    public void Season_OfLessThanAYear_IsNone() => Assert.Equal(1, UsageSeason.Learn(Trucks(20, 50, 0.3, 2), AsOf).Peak);

    [Fact]
    public void Season_WhereThereIsNone_IsSeldomFound()
    {
        // 300 fleets at 1 %: more than 10 come by chance once in a thousand.
        var found = Enumerable.Range(0, 300).Count(i => UsageSeason.Learn(Trucks(3, 60, 0, 100 + i), AsOf).Peak > 1);
        output.WriteLine($"{found} of 300");
        Assert.InRange(found, 0, 10);
    }

    [Fact]
    public void Season_OfNothing_IsNone()
    {
        Assert.Equal(1, UsageSeason.Learn([], AsOf).Peak);
        Assert.Equal(1, UsageSeason.Learn([[]], AsOf).Peak);
    }

    [Fact]
    public void HoursAhead_HoldWhatEightWeeksLeaveInDoubt()
    {
        // The truck's own mean is told from eight weeks only: the 80 % range of forty weeks' hours must hold as often as said, within 99.9 %.
        var random = new MersenneTwister(7);
        var inside = 0;
        const int trucks = 400;
        for (var i = 0; i < trucks; i++)
        {
            var runs = Trucks(1, 60, 0, 1000 + i)[0];
            var ways = Usage.Read(runs, AsOf, 8, UsageSeason.None).Ahead(40, 200, random).Select(w => w[40]).Order().ToArray();
            var truth = Enumerable.Range(0, 40).Sum(_ => 20 * Math.Exp(Normal.Sample(random, 0, 0.25)));
            inside += ways[20] <= truth && truth <= ways[179] ? 1 : 0;
        }

        output.WriteLine($"{inside / (double)trucks:P1}");

        var half = 3.29 * Math.Sqrt(0.8 * 0.2 / trucks);
        Assert.InRange(inside / (double)trucks, 0.8 - half, 0.8 + half);
    }

    [Fact]
    public void HoursAhead_FollowTheSeason()
    {
        var all = Trucks(20, 80, 0.3, 9);
        var season = UsageSeason.Learn(all, AsOf);
        var ways = Usage.Read(all[0], AsOf, 8, season).Ahead(52, 400, new MersenneTwister(1));
        var winter = ways.Average(w => w[48] - w[40]);
        var summer = ways.Average(w => w[22] - w[14]);

        // Weeks 15 to 22 from March are June and July, weeks 41 to 48 December and January.
        Assert.InRange(summer / winter, Math.Exp(0.45), Math.Exp(0.65));
        Assert.All(ways, w => Assert.Equal(w.Order(), w));
    }

    private static List<IReadOnlyList<Run>> Trucks(int count, int weeks, double wave, int seed)
    {
        var random = new MersenneTwister(seed);
        var template = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 1, 1, 1).RunsOf("T1")[0];
        var top = new DateTimeOffset(2026, 7, 1, 0, 0, 0, TimeSpan.Zero);
        return
        [
            .. Enumerable.Range(0, count).Select(_ => (IReadOnlyList<Run>)
            [
                .. Enumerable.Range(0, weeks).Reverse().Select(ago =>
                {
                    var at = AsOf.AddDays(-7 * (ago + 0.5));
                    var hours = 20 * Math.Exp((wave * Math.Cos(2 * Math.PI * (at - top).TotalDays / 365.25)) + Normal.Sample(random, 0, 0.25));
                    return template with { Start = ago == weeks - 1 ? AsOf.AddDays(-7 * weeks).AddMinutes(-1) : at.AddHours(-1), End = at, HoursH = hours };
                }),
            ]),
        ];
    }
}
