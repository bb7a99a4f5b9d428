namespace Vanehour.Models.Planning;

/// <summary>The weeks of a plan and what each of them has room for.</summary>
internal sealed class PlanCalendar
{
    private const int FridayFromMonday = 4;

    private readonly PlanOptions options;
    private readonly IReadOnlyList<PlanMark> blocks;
    private readonly Dictionary<string, int> resources = new(StringComparer.Ordinal);
    private readonly List<int> capacities = [];
    private readonly ILookup<string, int> groups;

    public PlanCalendar(DateTimeOffset asOf, IReadOnlyList<PlanMark> marks, PlanOptions options)
    {
        this.options = options;
        blocks = [.. marks.Where(m => m.Kind == PlanMarkKind.Block)];
        var week = PlanWeek.Of(asOf);

        // From Friday on nothing can be brought into the week that runs.
        First = (DateOnly.FromDateTime(asOf.UtcDateTime).DayNumber - week.Monday.DayNumber) >= FridayFromMonday ? week.Plus(1) : week;
        groups = options.NotTogether.SelectMany((trucks, group) => trucks.Distinct(StringComparer.Ordinal).Select(truck => (truck, group))).ToLookup(t => t.truck, t => t.group, StringComparer.Ordinal);
    }

    /// <summary>The first week that can be planned.</summary>
    public PlanWeek First { get; }

    public int Weeks => options.HorizonWeeks;

    /// <summary>Units of each resource that a job has taken so far asked for.</summary>
    public IReadOnlyList<int> Capacities => capacities;

    /// <summary>Why a pump cannot be rebuilt in a week whatever else is planned; null where it can.</summary>
    public string? WhyNot(PumpRisk pump, int week)
    {
        var at = First.Plus(week);
        if (blocks.FirstOrDefault(b => b.Covers(at) && (b.Truck is null || b.Truck == pump.Truck) && (b.Yard is null || b.Yard == pump.Yard)) is { } block)
        {
            var who = block.Truck is not null ? pump.Truck : block.Yard ?? "every yard";
            return $"{at} is blocked for {who}{(block.By is { } by ? $" by {by}" : string.Empty)}{(block.Note is { } note ? $" ({note})" : string.Empty)}";
        }

        if (options.SlotsOf(pump.Yard) == 0)
        {
            return $"{pump.Yard} has no slots";
        }

        var parts = options.PartsOf(pump.PumpModel);
        return week < parts.LeadWeeks && parts.InStock == 0 && SparesOf(pump) == 0 ? $"no kit for {pump.PumpModel} is there before {First.Plus(parts.LeadWeeks)}" : null;
    }

    /// <summary>The ways to rebuild a pump in a week: on the truck, and by a spare where there are any. Empty where <see cref="WhyNot"/> says why.</summary>
    public IEnumerable<(bool Swap, int[] Uses)> Ways(PumpRisk pump, int week)
    {
        if (WhyNot(pump, week) is not null)
        {
            yield break;
        }

        int[] shared = [Slot(pump.Yard, week), .. groups[pump.Truck].Select(g => Resource($"group {g} {week}", 1))];
        var parts = options.PartsOf(pump.PumpModel);
        if (week >= parts.LeadWeeks)
        {
            yield return (false, shared);
        }
        else if (parts.InStock > 0)
        {
            yield return (false, [.. shared, Resource($"kit {pump.PumpModel}", parts.InStock)]);
        }

        if (SparesOf(pump) is > 0 and var spares)
        {
            // In any stretch as long as a pump takes to come back no more can go on than there are.
            yield return (true,
            [
                .. shared,
                .. Enumerable.Range(Math.Max(0, week - options.SpareBackWeeks + 1), Math.Min(week + 1, options.SpareBackWeeks))
                    .Select(from => Resource($"spare {pump.PumpModel} {from}", spares)),
            ]);
        }
    }

    /// <summary>The resource that is a yard's slots of a week.</summary>
    public int Slot(string yard, int week) => Resource($"slot {yard} {week}", options.SlotsOf(yard));

    private int SparesOf(PumpRisk pump) => options.Spares.TryGetValue(pump.PumpModel, out var spares) ? spares : 0;

    private int Resource(string name, int capacity)
    {
        if (!resources.TryGetValue(name, out var index))
        {
            index = capacities.Count;
            resources.Add(name, index);
            capacities.Add(capacity);
        }

        return index;
    }
}
