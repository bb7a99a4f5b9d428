using System.Collections.Immutable;
using Vanehour.Models.Planning.Solving;

namespace Vanehour.Models.Planning;

/// <summary>A pump that is due or pinned, and the ways to settle it.</summary>
/// <param name="Risk">The pump.</param>
/// <param name="Costs">By week.</param>
/// <param name="Pin">The pin that it keeps to; null without one.</param>
/// <param name="Before">The week it was planned in, from the first on; null where it was not.</param>
/// <param name="Ways">The week and whether a spare is put on, one for each choice; week -1: later.</param>
/// <param name="Choices">What each costs and takes.</param>
internal sealed record PumpChoices(
    PumpRisk Risk, WeekCosts Costs, PlanMark? Pin, int? Before, ImmutableArray<(int Week, bool Swap)> Ways, ImmutableArray<Choice> Choices)
{
    private const int Never = -1;

    /// <summary>Lists them.</summary>
    public static PumpChoices Of(PumpRisk risk, WeekCosts costs, PlanMark? pin, int? before, PlanCalendar calendar, PlanOptions options)
    {
        var ways = ImmutableArray.CreateBuilder<(int, bool)>();
        var choices = ImmutableArray.CreateBuilder<Choice>();
        var moving = options.MoveCostShare * options.Costs.PlannedRebuild;
        for (var week = 0; week < calendar.Weeks; week++)
        {
            if (pin is null || pin.From == calendar.First.Plus(week))
            {
                foreach (var (swap, uses) in calendar.Ways(risk, week))
                {
                    ways.Add((week, swap));
                    choices.Add(new Choice(costs.Weeks[week] - (swap ? options.Costs.SwapSaves : 0) + (before is { } b && b != week ? moving : 0), [.. uses]));
                }
            }
        }

        if (pin is null)
        {
            ways.Add((Never, false));
            choices.Add(new Choice(costs.Later + (before is null ? 0 : moving), []));
        }

        return new PumpChoices(risk, costs, pin, before, ways.ToImmutable(), choices.ToImmutable());
    }

    /// <summary>The cheapest week that is open to the pump alone; -1: later.</summary>
    public int Cheapest(PlanCalendar calendar)
    {
        var best = Never;
        for (var week = 0; week < calendar.Weeks; week++)
        {
            if (Costs.Weeks[week] < (best < 0 ? Costs.Later : Costs.Weeks[best]) && calendar.WhyNot(Risk, week) is null)
            {
                best = week;
            }
        }

        return best;
    }
}
