using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.Tests.Planning;
using Vanehour.Reports.Planning;

namespace Vanehour.Reports.Tests.Planning;

/// <summary>Plans to draw. All invented.</summary>
internal static class PlanStories
{
    public static readonly string LongName = string.Join(' ', Enumerable.Repeat("Bartholomew", 18));
    public static readonly string Hostile = "T,\"1\";\n\t<b>&\u202E\u0007{0}" + new string('W', 60);

    public static IEnumerable<string> Names { get; } =
        ["typical", "empty", "eight yards", "hostile names", "long names", "many jobs in a week", "high chances", "pins, swaps and blocks", "horizon 5", "horizon 78"];

    /// <summary>A plan, the week's digest after it, and what they were made from.</summary>
    public static (PlanReportData Data, MondayDigest Digest) Of(string name)
    {
        var (fleet, options) = name switch
        {
            "empty" => (new PlanFleet().With("T01", 95), new PlanOptions()),
            "eight yards" => (Fleet(40, i => $"Yard {i % 8}"), new PlanOptions()),
            "hostile names" => (Fleet(9, i => i % 2 == 0 ? Hostile : "=cmd|' /C'!A0", i => $"{Hostile}{i}", Hostile), new PlanOptions()),
            "long names" => (Fleet(9, i => LongName + i, i => $"{i}{LongName}", LongName), new PlanOptions()),
            "many jobs in a week" => (Same(14), new PlanOptions { SlotsPerWeek = 14, UsualParts = new PartsSupply { InStock = 40 } }),
            "high chances" => (Same(10, 1.2), new PlanOptions()),
            "pins, swaps and blocks" => (Fleet(12, i => i % 2 == 0 ? "North" : "South").Pin("T01", 3).Pin("T02", 0).Pin("T03", -1).Pin("T04", 30).Block(1, 2, "North").Block(5, 5), Swapping()),
            "horizon 5" => (Fleet(12, i => i % 2 == 0 ? "North" : "South"), new PlanOptions { HorizonWeeks = 5 }),
            "horizon 78" => (Fleet(30, i => i % 2 == 0 ? "North" : "South"), new PlanOptions { HorizonWeeks = 78 }),
            _ => (Fleet(16, i => i % 3 == 0 ? "South" : "North"), new PlanOptions()),
        };
        foreach (var (truck, i) in fleet.Input().Trucks.Take(6).Select((t, i) => (t.Id, i)))
        {
            fleet.Findings.Add(Finding($"f{i}", truck, i == 0 ? FindingKind.OilUseLow : i == 1 ? FindingKind.FeedSilent : FindingKind.RunningHot, i == 0 ? Urgency.Stop : Urgency.Week));
        }

        // A week before, the first truck of the plan was elsewhere, and one was not on it.
        var input = name == "empty" ? fleet.Input() with { Findings = [] } : fleet.Input();
        var first = new Planner(options).Make(input);
        var before = first with { AsOf = first.AsOf.AddDays(-7), Jobs = [.. first.Jobs.Skip(1).Select((j, i) => i == 0 ? j with { Week = j.Week.Plus(2) } : j)] };
        var plan = new Planner(options).Make(input with { Previous = before });
        var digest = MondayDigest.Of(plan, name == "empty" ? null : before, input, new Dictionary<string, DateTimeOffset> { [input.Trucks[0].Id] = PlanFleet.Now.AddDays(-3) });
        return (new PlanReportData(plan, options, fleet.Marks, [.. input.Trucks.Select(t => t.Yard).Distinct()]), digest);
    }

    private static PlanOptions Swapping()
    {
        var options = new PlanOptions();
        options.Spares["Alder 400"] = 2;
        return options;
    }

    private static PlanFleet Same(int count, double weeks = 9) => Enumerable.Range(1, count).Aggregate(new PlanFleet(), (f, i) => f.With($"T{i:D2}", weeks));

    private static PlanFleet Fleet(int count, Func<int, string> yard, Func<int, string>? truck = null, string model = "Alder 400") =>
        Enumerable.Range(1, count).Aggregate(new PlanFleet(), (f, i) => f.With(truck?.Invoke(i) ?? $"T{i:D2}", 2 + (i * 37 % 31), 0.25, yard(i), model));

    private static Finding Finding(string id, string truck, FindingKind kind, Urgency urgency) => new()
    {
        Id = id,
        Truck = truck,
        Kind = kind,
        Urgency = urgency,
        Status = FindingStatus.Open,
        Since = PlanFleet.Now.AddDays(-2),
        Evidence = [],
        Causes = [],
        Checks = [new Check("Look at the oil line and count the drops.", "PTO off.")],
    };
}
