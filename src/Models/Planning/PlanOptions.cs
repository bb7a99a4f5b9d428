namespace Vanehour.Models.Planning;

/// <summary>Costs and capacity of the workshop. Every default is an invented example.</summary>
public sealed record PlanOptions
{
    /// <summary>The longest horizon, weeks: so far ahead forecasts give chances.</summary>
    public const int LongestHorizonWeeks = 78;

    /// <summary>Weeks that are planned.</summary>
    public int HorizonWeeks { get; init; } = 26;

    public PlanCosts Costs { get; init; } = new();

    /// <summary>Rebuilds that a yard can do in a week, for yards not named in <see cref="YardSlots"/>.</summary>
    public int SlotsPerWeek { get; init; } = 1;

    /// <summary>Rebuilds that a yard can do in a week, by yard.</summary>
    public IDictionary<string, int> YardSlots { get; } = new Dictionary<string, int>(StringComparer.Ordinal);

    /// <summary>Kits of the pump models not named in <see cref="Parts"/>, each.</summary>
    public PartsSupply UsualParts { get; init; } = new();

    /// <summary>Kits by pump model.</summary>
    public IDictionary<string, PartsSupply> Parts { get; } = new Dictionary<string, PartsSupply>(StringComparer.Ordinal);

    /// <summary>Spare pumps ready to be put on, by pump model; none of those not named.</summary>
    public IDictionary<string, int> Spares { get; } = new Dictionary<string, int>(StringComparer.Ordinal);

    /// <summary>Weeks from a swap until the pump that came off is a spare.</summary>
    public int SpareBackWeeks { get; init; } = 3;

    /// <summary>Trucks of which no two may be down in one week: a list of lists.</summary>
    public IList<IList<string>> NotTogether { get; } = [];

    /// <summary>What moving a job that was planned already must save at least, as a share of a planned rebuild; 0 or more.</summary>
    public double MoveCostShare { get; init; } = 0.03;

    /// <summary>Chance a week that a pump with an open Stop finding fails, 0 to 1; it brings a rebuild that is due anyway forward. Invented.</summary>
    public double StopFindingRisk { get; init; } = 0.05;

    /// <summary>Chance of the limit before a job's week from which the plan says that the slots cannot hold the risk, above 0 to 1.</summary>
    public double HighChance { get; init; } = 0.5;

    /// <summary>Whether costs are still the invented examples.</summary>
    public bool CostsAreExamples => Costs == new PlanCosts();

    /// <summary>Rebuilds that <paramref name="yard"/> can do in a week.</summary>
    public int SlotsOf(string yard) => YardSlots.TryGetValue(yard, out var slots) ? slots : SlotsPerWeek;

    /// <summary>The kits of <paramref name="model"/>.</summary>
    public PartsSupply PartsOf(string model) => Parts.TryGetValue(model, out var parts) ? parts : UsualParts;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (HorizonWeeks is < 1 or > LongestHorizonWeeks)
        {
            yield return $"HorizonWeeks must be 1 to {LongestHorizonWeeks}.";
        }

        if (YardSlots.Values.Append(SlotsPerWeek).Concat(Spares.Values).Any(n => n is < 0 or > 1000))
        {
            yield return "Slots and spares must be 0 to 1000.";
        }

        if (Parts.Values.Append(UsualParts).Any(p => p.InStock is < 0 or > 100_000 || p.LeadWeeks is < 0 or > 104))
        {
            yield return "InStock must be 0 to 100000 and LeadWeeks 0 to 104.";
        }

        if (SpareBackWeeks is < 1 or > 52 || !(MoveCostShare is >= 0 and <= 10) || !(StopFindingRisk is >= 0 and < 1) || !(HighChance is > 0 and <= 1))
        {
            yield return "SpareBackWeeks must be 1 to 52, MoveCostShare 0 to 10, StopFindingRisk 0 to below 1, HighChance above 0 to 1.";
        }

        foreach (var problem in Costs.Problems())
        {
            yield return problem;
        }
    }
}
