using System.Collections.Immutable;
using Vanehour.Models.Planning.Solving;

namespace Vanehour.Models.Tests.Planning;

public class IntegerProgramTests
{
    [Fact]
    public void SmallProblems_HaveTheCostThatTryingEverythingFinds()
    {
        var random = new Random(7);
        var infeasible = 0;
        for (var trial = 0; trial < 300; trial++)
        {
            var capacities = Enumerable.Range(0, random.Next(1, 6)).Select(_ => random.Next(0, 3)).ToImmutableArray();
            var items = Enumerable.Range(0, random.Next(1, 6))
                .Select(_ => Enumerable.Range(0, random.Next(1, 5))
                    .Select(_ => new Choice(Math.Round((random.NextDouble() * 100) - 20, 2), [.. Enumerable.Range(0, capacities.Length).Where(_ => random.NextDouble() < 0.4)]))
                    .ToImmutableArray())
                .ToImmutableArray();
            var problem = new ChoiceProblem(items, capacities);
            var best = Brute(problem);
            var solution = IntegerProgram.Solve(problem);
            if (best is null)
            {
                infeasible++;
                Assert.Null(solution);
                continue;
            }

            Assert.NotNull(solution);
            Assert.Equal(best.Value, solution.Cost, 6);
            Assert.Equal(best.Value, solution.Bound, 4);
            Assert.Equal(best.Value, items.Zip(solution.Taken, (i, t) => i[t].Cost).Sum(), 6);
            var used = items.Zip(solution.Taken, (i, t) => i[t].Uses).SelectMany(u => u).CountBy(u => u);
            Assert.All(used, u => Assert.True(u.Value <= capacities[u.Key]));
        }

        // Both kinds came up.
        Assert.InRange(infeasible, 10, 290);
    }

    [Fact]
    public void NothingToSettle_CostsNothing() => Assert.Equal(0, IntegerProgram.Solve(new ChoiceProblem([], []))!.Cost);

    private static double? Brute(ChoiceProblem problem)
    {
        double? best = null;
        var used = new int[problem.Capacities.Length];
        Try(0, 0);
        return best;

        void Try(int item, double cost)
        {
            if (item == problem.Items.Length)
            {
                best = best is { } b && b <= cost ? b : cost;
                return;
            }

            foreach (var choice in problem.Items[item])
            {
                if (choice.Uses.All(u => used[u] < problem.Capacities[u]))
                {
                    foreach (var u in choice.Uses)
                    {
                        used[u]++;
                    }

                    Try(item + 1, cost + choice.Cost);
                    foreach (var u in choice.Uses)
                    {
                        used[u]--;
                    }
                }
            }
        }
    }
}
