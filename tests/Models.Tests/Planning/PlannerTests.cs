using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.Planning;

public class PlannerTests
{
    private static readonly PartsSupply Plenty = new() { InStock = 100, LeadWeeks = 0 };

    /// <summary>By hand: rebuild 100, failure 300, 1 a vane hour, 10 h a week, limit and failure certain in the third week.</summary>
    [Fact]
    public void Cost_IsRebuildAndRiskAndHoursThrownAway()
    {
        var risk = new PumpRisk
        {
            Truck = "T",
            PumpSerial = "P",
            PumpModel = "M",
            Yard = "Y",
            HoursPerWeek = 10,
            VaneHourValue = 1,
            Basis = RiskBasis.WearForecast,
            LimitBy = [0, 0.5, 1, 1, 1],
            FailBy = [0, 0.25, 0.5, 1, 1],
        };
        var costs = WeekCosts.Of(risk, 3, new PlanCosts { PlannedRebuild = 100, Tow = 200, LostJobs = 0, DamagedPump = 0, CleanUp = 0 }, 0);

        // Unused: 10 and 5 h; 5 h; none.
        Assert.Equal([100 + 15.0, 100 + 50 + 5, 100 + 100], costs.Weeks.AsEnumerable());
        Assert.Equal(300, costs.Later);
        Assert.True(costs.IsDue);
    }

    [Fact]
    public void Alone_APumpIsRebuiltInItsCheapestWeek()
    {
        var fleet = new PlanFleet().With("T01", 10).With("T02", 60);
        var plan = new Planner(Options()).Make(fleet.Input());

        var job = Assert.Single(plan.Jobs);
        Assert.Equal("T01", job.Truck);
        Assert.Equal(job.BestWeek, job.Week);
        Assert.InRange(job.Week.WeeksAfter(PlanFleet.First), 5, 10);
        Assert.True(job.WeekEarlier > 0 && job.WeekLater > 0);
        Assert.Equal("T02", Assert.Single(plan.Later).Truck);
        Assert.False(plan.Later[0].IsDue);
        Assert.Equal(0, plan.Gap, 6);
        Assert.Empty(plan.Prices);
    }

    [Fact]
    public void TwoForOneSlot_TheOneThatLosesMoreByWaitingGoesFirst_AndThePriceOfASlotIsSaid()
    {
        // The same cheapest week; the limit of one is known to the week, of the other it is not.
        var fleet = new PlanFleet().With("T01", 4, 0.1).With("T02", 4, 0.1).With("T03", 4, 0.1).With("T04", 4, 0.1);
        var plan = new Planner(Options()).Make(fleet.Input());

        Assert.Equal(4, plan.Jobs.Length);
        Assert.Equal(4, plan.Jobs.Select(j => j.Week).Distinct().Count());
        var price = Assert.Single(plan.Prices);
        Assert.Equal("North", price.Yard);
        Assert.True(price.Saves > 0);

        // A slot more in every week saves at least what one more in that week does.
        var rich = Options();
        rich.YardSlots["North"] = 2;
        Assert.True(plan.Cost - new Planner(rich).Make(fleet.Input()).Cost >= price.Saves - 0.01);
    }

    [Fact]
    public void Everything_IsInsideWhatTheShopCanDo()
    {
        for (var seed = 1; seed <= 24; seed++)
        {
            var random = new Random(seed);
            var options = Options(random.Next(1, 3), new PartsSupply { InStock = random.Next(0, 4), LeadWeeks = random.Next(0, 6) });
            options.Spares["Birch 200"] = random.Next(0, 3);
            options.NotTogether.Add(["T001", "T002", "T003"]);
            var fleet = new PlanFleet();
            for (var i = 1; i <= 30; i++)
            {
                fleet.With($"T{i:D3}", 2 + (random.NextDouble() * 30), 0.1 + (random.NextDouble() * 0.3), random.Next(2) == 0 ? "North" : "South", random.Next(2) == 0 ? "Alder 400" : "Birch 200");
            }

            fleet.Block(3, 4, "North").Block(2, 6, truck: "T005").Pin("T006", 5, 1).Pin("T007", 5, 2).Pin("T008", 5, 3).Pin("T009", 5, 4).Pin("T010", 3, 5);
            var previous = seed % 2 == 0 ? new Planner(options).Make(fleet.Input()) : null;
            var plan = new Planner(options).Make(fleet.Input(previous));

            Assert.NotEmpty(plan.Jobs);
            Assert.Equal(plan.Jobs.Length, plan.Jobs.Select(j => j.Truck).Distinct().Count());
            Assert.All(plan.Jobs.GroupBy(j => (j.Yard, j.Week)), g => Assert.True(g.Count() <= options.SlotsOf(g.Key.Yard)));
            Assert.DoesNotContain(plan.Jobs, j => j.Yard == "North" && j.Week.WeeksAfter(plan.FirstWeek) is 3 or 4);
            Assert.DoesNotContain(plan.Jobs, j => j.Truck == "T005" && j.Week.WeeksAfter(plan.FirstWeek) is >= 2 and <= 6);
            Assert.All(plan.Jobs.GroupBy(j => j.PumpModel), g => Assert.True(g.Count(j => !j.Swap && j.Week.WeeksAfter(plan.FirstWeek) < options.UsualParts.LeadWeeks) <= options.UsualParts.InStock));
            Assert.All(plan.Jobs.Where(j => j.Truck is "T001" or "T002" or "T003").GroupBy(j => j.Week), g => Assert.Single(g));
            Assert.DoesNotContain(plan.Jobs, j => j.Swap && j.PumpModel == "Alder 400");
            foreach (var job in plan.Jobs.Where(j => j.Swap))
            {
                Assert.True(plan.Jobs.Count(j => j.Swap && j.Week.WeeksAfter(job.Week) is >= 0 and var w && w < options.SpareBackWeeks) <= options.Spares["Birch 200"]);
            }

            // A pin is kept, or the plan says why not.
            Assert.All(fleet.Marks.Where(m => m.Kind == PlanMarkKind.Pin), m =>
                Assert.True(plan.JobOf(m.Truck!) is { Pinned: true } job && job.Week == m.From || plan.Remarks.Any(r => r.Contains($"The pin of {m.Truck} to {m.From} is set aside", StringComparison.Ordinal))));
            Assert.InRange(plan.Gap, 0, 1e-6);
        }
    }

    [Fact]
    public void PlansOfFewPumps_CostWhatTryingEverythingFinds()
    {
        for (var seed = 1; seed <= 25; seed++)
        {
            var random = new Random(seed);
            var options = Options(1, new PartsSupply { InStock = 1, LeadWeeks = 2 }) with { HorizonWeeks = 5 };
            var fleet = new PlanFleet();
            for (var i = 1; i <= 4; i++)
            {
                fleet.With($"T{i}", 1 + (random.NextDouble() * 5), 0.3, random.Next(3) == 0 ? "South" : "North");
            }

            var plan = new Planner(options).Make(fleet.Input());
            Assert.Equal(Cheapest(new Planner(options), fleet, options), plan.Cost, 4);
        }
    }

    [Fact]
    public void APin_IsKept_AndWhatItCostsIsSeen()
    {
        var fleet = new PlanFleet().With("T01", 10);
        var free = new Planner(Options()).Make(fleet.Input());
        var plan = new Planner(Options()).Make(fleet.Pin("T01", 1).Input(free));

        var job = Assert.Single(plan.Jobs);
        Assert.True(job.Pinned);
        Assert.Equal(PlanFleet.First.Plus(1), job.Week);
        Assert.True(job.ExpectedCost > free.Jobs[0].ExpectedCost);
        var move = Assert.Single(plan.Moves);
        Assert.Equal(free.Jobs[0].Week, move.From);
        Assert.Contains("Ann", move.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void APin_OfALifeThatIsOver_IsDoneWith()
    {
        var fleet = new PlanFleet().With("T01", 60).Pin("T01", 1);
        var input = fleet.Input() with { FittedAt = new Dictionary<string, DateTimeOffset> { ["T01"] = PlanFleet.Now.AddHours(-1) } };
        Assert.Empty(new Planner(Options()).Make(input).Jobs);
    }

    [Fact]
    public void APinInThePast_IsSetAside_AndSaid()
    {
        var plan = new Planner(Options()).Make(new PlanFleet().With("T01", 60).Pin("T01", -2).Input());
        Assert.Empty(plan.Jobs);
        Assert.Contains(plan.Remarks, r => r.Contains("is over and no rebuild is recorded", StringComparison.Ordinal));
    }

    [Fact]
    public void SmallChanges_MoveFewJobs_AndLargeOnesMoveTheirs()
    {
        var random = new Random(5);
        var limits = Enumerable.Range(1, 40).Select(i => (Id: $"T{i:D2}", Weeks: 3 + (random.NextDouble() * 22))).ToList();
        PlanFleet Fleet(Func<double> factor)
        {
            var fleet = new PlanFleet();
            limits.ForEach(l => fleet.With(l.Id, l.Weeks * factor(), 0.25));
            return fleet;
        }

        var options = Options(2);
        var first = new Planner(options).Make(Fleet(() => 1).Input());
        Assert.InRange(first.Jobs.Length, 25, 40);
        var again = new Planner(options).Make(Fleet(() => 1).Input(first));
        Assert.Empty(again.Moves);

        var second = new Planner(options).Make(Fleet(() => 1 + (0.02 * (random.NextDouble() - 0.5))).Input(first));
        var without = new Planner(options with { MoveCostShare = 0 }).Make(Fleet(() => 1 + (0.02 * (new Random(5).NextDouble() - 0.5))).Input(first));
        Assert.InRange(second.Moves.Length, 0, 4);
        Assert.True(second.Moves.Length <= without.Moves.Length);

        // Twice as soon for one: it moves, and says why.
        var jumped = first.Jobs[^1].Truck;
        var fleet = new PlanFleet();
        limits.ForEach(l => fleet.With(l.Id, l.Id == jumped ? 2 : l.Weeks, 0.25));
        var third = new Planner(options).Make(fleet.Input(first));
        var move = Assert.Single(third.Moves, m => m.Truck == jumped);
        Assert.True(move.To < move.From);
        Assert.Contains("limit is now expected", move.Why, StringComparison.Ordinal);
        Assert.True(third.Moves.Length < new Planner(options with { MoveCostShare = 0 }).Make(fleet.Input(first)).Moves.Length);
    }

    [Fact]
    public void AnOpenStopFinding_StandsFirst_AndBringsADueRebuildForward()
    {
        var fleet = new PlanFleet().With("T01", 14).With("T02", 90);
        var calm = new Planner(Options()).Make(fleet.Input()).JobOf("T01")!;
        foreach (var truck in new[] { "T01", "T02" })
        {
            fleet.Findings.Add(new Finding
            {
                Id = "f" + truck,
                Truck = truck,
                Kind = FindingKind.OilUseLow,
                Urgency = Urgency.Stop,
                Status = FindingStatus.Open,
                Since = PlanFleet.Now.AddDays(-1),
                Evidence = [],
                Causes = [],
                Checks = [new Check("Look at the oil line.", "PTO off.")],
            });
        }

        var plan = new Planner(Options()).Make(fleet.Input());
        Assert.Equal(["T01", "T02"], plan.Stop.Select(s => s.Truck));
        Assert.Equal("Look at the oil line.", plan.Stop[0].Check);
        Assert.True(plan.JobOf("T01")!.Week < calm.Week);

        // A choked line on a young pump is no reason to rebuild it.
        Assert.Null(plan.JobOf("T02"));
    }

    [Fact]
    public void Kits_AreOrderedInTime()
    {
        var fleet = new PlanFleet().With("T01", 8, 0.1).With("T02", 12, 0.1).With("T03", 16, 0.1);
        var plan = new Planner(Options(1, new PartsSupply { InStock = 1, LeadWeeks = 4 })).Make(fleet.Input());
        Assert.Equal(3, plan.Jobs.Length);
        Assert.Equal(2, plan.Orders.Length);
        Assert.Equal([plan.Jobs[1].Week, plan.Jobs[2].Week], plan.Orders.Select(o => o.For));
        Assert.All(plan.Orders, o => Assert.Equal(4, o.For.WeeksAfter(o.OrderBy)));
    }

    [Fact]
    public void ShopsThatCannotHoldTheRisk_SaySo()
    {
        var fleet = new PlanFleet();
        for (var i = 0; i < 8; i++)
        {
            fleet.With($"T{i}", 1.5, 0.2);
        }

        var plan = new Planner(Options()).Make(fleet.Input());
        Assert.Contains(plan.Remarks, r => r.StartsWith("North cannot hold the risk: ", StringComparison.Ordinal));
        Assert.True(Assert.Single(plan.Prices).Saves > 500);
    }

    [Fact]
    public void TrucksWithoutForecast_ArePlannedByTheirHours_OrSaidToBeLeftOut()
    {
        var fleet = new PlanFleet().With("T01", 20).With("T02", 20).With("T03", 20)
            .Change("T02", w => w with { Chances = [], HoursToLimit = null, DateOfLimit = null, HoursSinceFitting = 1600 })
            .Change("T03", w => w with { Chances = [], HoursToLimit = null, DateOfLimit = null, HoursPerDay = null, Checks = [new WearObservation(PlanFleet.Now, 1, 1, 0.01, 0, 0.1, 60, true, null, false)] });
        var plan = new Planner(Options()).Make(fleet.Input());
        Assert.Equal(RiskBasis.HoursAlone, plan.JobOf("T02")!.Basis);
        Assert.Contains("T03 is not planned: it has not run of late.", plan.Remarks);
    }

    [Fact]
    public void Explanation_HasEveryWeek_AndTheDifferenceToTheChosenOne()
    {
        var fleet = new PlanFleet().With("T01", 10, 0.1).With("T02", 10, 0.1).Block(0, 1, "North");
        var planner = new Planner(Options());
        var plan = planner.Make(fleet.Input());
        var job = plan.JobOf("T01")!;
        var why = planner.Explain(fleet.Input(), plan, "T01")!;

        Assert.Equal(26, why.Weeks.Length);
        var chosen = why.Weeks.Single(w => w.Week == job.Week);
        Assert.Equal(0, chosen.More);
        Assert.Equal(job.ExpectedCost, chosen.Cost, 6);
        Assert.Equal(job.WeekLater!.Value, why.Weeks.Single(w => w.Week == job.Week.Plus(1)).More, 6);
        Assert.Contains("blocked", why.Weeks[0].WhyNot!, StringComparison.Ordinal);
        Assert.Equal("full: T02", why.Weeks.Single(w => w.Week == plan.JobOf("T02")!.Week).WhyNot);
        Assert.Null(planner.Explain(fleet.Input(), plan, "T99"));
    }

    [Fact]
    public void Plan_SurvivesJson()
    {
        var plan = new Planner(Options()).Make(new PlanFleet().With("T01", 4).With("T02", 4).Pin("T02", 2).Input());
        var json = System.Text.Json.JsonSerializer.Serialize(plan, Vanehour.Models.Results.ModelsJson.Default.RebuildPlan);
        var back = System.Text.Json.JsonSerializer.Deserialize(json, Vanehour.Models.Results.ModelsJson.Default.RebuildPlan)!;
        Assert.Equal(plan.Jobs.AsEnumerable(), back.Jobs);
        Assert.Equal(plan.FirstWeek, back.FirstWeek);
    }

    private static PlanOptions Options(int slots = 1, PartsSupply? parts = null) => new() { SlotsPerWeek = slots, UsualParts = parts ?? Plenty };

    // Every combination of weeks by pins: what the planner says of each is added up by itself.
    private static double Cheapest(Planner planner, PlanFleet fleet, PlanOptions options)
    {
        var input = fleet.Input();
        var free = new Planner(options with { SlotsPerWeek = 1000, UsualParts = Plenty }).Make(input);
        var costs = input.Trucks.Select(t => planner.Explain(input, free, t.Id)!).ToList();
        var best = double.PositiveInfinity;
        var weeks = new int[costs.Count];
        Try(0);
        return best;

        void Try(int i)
        {
            if (i == costs.Count)
            {
                var jobs = weeks.Select((w, k) => (Week: w, costs[k].Risk.Yard, Cost: w < 0 ? costs[k].CostLater : costs[k].Weeks[w].Cost, Due: costs[k].Weeks.Min(x => x.Cost) < costs[k].CostLater)).ToList();
                var isPossible = jobs.Where(j => j.Week >= 0).GroupBy(j => (j.Week, j.Yard)).All(g => g.Count() <= 1) && jobs.Count(j => j.Week is 0 or 1) <= 1;
                if (isPossible)
                {
                    // The plan does not count pumps that are cheapest later.
                    best = Math.Min(best, jobs.Where(j => j.Due || j.Week >= 0).Sum(j => j.Cost));
                }

                return;
            }

            for (var w = -1; w < options.HorizonWeeks; w++)
            {
                if (w >= 0 && !(costs[i].Weeks[w].Cost < costs[i].CostLater))
                {
                    continue;
                }

                weeks[i] = w;
                Try(i + 1);
            }
        }
    }
}
