using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Planning;
using Vanehour.Scoring;
using Vanehour.Scoring.Policies;

namespace Vanehour.Simulator.Tests.Policies;

public class RunTogetherTests
{
    private static readonly SimulatedFleet Fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 5, Faults = FaultScenario.None });

    [Fact]
    public void Together_IsTheSameFleetAsAlone()
    {
        var watching = new Choosing(_ => []);
        var together = Fleet.RunTogether(watching);
        Assert.Equal(Fleet.RunUnder(new RunToFailurePolicy()).Trucks.AsEnumerable(), together.Trucks);
        foreach (var truck in Fleet.Trucks)
        {
            Assert.True(watching.Samples[truck.Id] > 10_000);
        }

        Assert.InRange(watching.Sundays.Count, 20, 22);
        Assert.All(watching.Sundays, s => Assert.Equal(DayOfWeek.Sunday, s.DayOfWeek));
        Assert.Equal(watching.Sundays.Order(), watching.Sundays);
    }

    [Fact]
    public void WhatIsChosen_IsRebuiltOnThatSunday_Once()
    {
        var truck = Fleet.Trucks[1].Id;
        var day = new DateOnly(2026, 3, 15);
        var policy = new Choosing(sunday => sunday == day ? [truck] : []);
        var outcome = Fleet.RunTogether(policy);
        var rebuild = Assert.Single(policy.LastRecords, r => r.Kind is ServiceKind.Rebuild or ServiceKind.Fitted);
        Assert.Equal(truck, rebuild.Truck);
        Assert.Equal(day, DateOnly.FromDateTime(rebuild.At.DateTime));
        Assert.Equal([0, 1, 0], outcome.Trucks.Select(t => t.PlannedRebuilds));
    }

    [Fact]
    public void ThePlansPolicy_DerivesTheRunsThatAStoreWouldGive()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 2, Months = 3, Faults = FaultScenario.None }, new RunToFailurePolicy());

        // So few slots that nothing is rebuilt: the samples are those of the fleet itself.
        var policy = new PlanPolicy(fleet, new AnalysisOptions(), new PlanOptions { SlotsPerWeek = 0 }, 6);
        fleet.RunTogether(policy);
        // Twelve Sundays, a plan every sixth.
        Assert.Equal(2, policy.Plans);
        foreach (var truck in fleet.Trucks)
        {
            var expected = SimulatedRuns.Of(fleet, truck).Runs;
            Assert.Equal(expected.Select(r => (r.Start, r.End, r.HoursH)), policy.RunsOf(truck.Id).Select(r => (r.Start, r.End, r.HoursH)));
            Assert.Equal(expected.SelectMany(r => r.FirstPumpDown is { } p ? new[] { (p.Start, p.Refusal) } : []), policy.RunsOf(truck.Id).SelectMany(r => r.FirstPumpDown is { } p ? new[] { (p.Start, p.Refusal) } : []));
        }
    }

    private sealed class Choosing(Func<DateOnly, IReadOnlyList<string>> choose) : IFleetPolicy
    {
        public Dictionary<string, int> Samples { get; } = Fleet.Trucks.ToDictionary(t => t.Id, _ => 0);

        public List<DateOnly> Sundays { get; } = [];

        public IReadOnlyList<ServiceRecord> LastRecords { get; private set; } = [];

        public void See(string truck, IReadOnlyList<Sample> samples)
        {
            lock (Samples)
            {
                Samples[truck] += samples.Count;
            }
        }

        public IReadOnlySet<string> Choose(DateOnly sunday, IReadOnlyList<ServiceRecord> records)
        {
            Sundays.Add(sunday);
            LastRecords = records;
            return choose(sunday).ToHashSet(StringComparer.Ordinal);
        }
    }
}
