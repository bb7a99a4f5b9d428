using System.Text.Json;
using Vanehour.Models.Results;
using Vanehour.Store.Results;

namespace Vanehour.Models.Planning;

/// <summary>The plans as kept, and the pins and blocks that people have set.</summary>
/// <param name="store">Where they are kept.</param>
public sealed class PlanBook(IPlanStore store)
{
    /// <summary>The latest plan; null where none was made, or it was made by another version.</summary>
    public RebuildPlan? Latest() => Read(store.LatestPlan());

    /// <summary>The latest plan of an analysis at or before an instant; null where there is none.</summary>
    public RebuildPlan? LatestAsOf(DateTimeOffset asOf) => Read(store.LatestPlan(asOf));

    /// <summary>Keeps a plan.</summary>
    public void Save(RebuildPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        store.SavePlan(plan.MadeAt, plan.AsOf, JsonSerializer.Serialize(plan, ModelsJson.Default.RebuildPlan));
    }

    /// <summary>Pins and blocks in the order in which they were made.</summary>
    public IReadOnlyList<PlanMark> Marks() =>
        [.. store.PlanMarks().Select(m => JsonSerializer.Deserialize(m.Json, ModelsJson.Default.PlanMark)! with { Id = m.Id })];

    /// <summary>Adds a mark; one pin a truck: an older one is taken off.</summary>
    public PlanMark Add(PlanMark mark)
    {
        ArgumentNullException.ThrowIfNull(mark);
        var replaced = mark.Kind == PlanMarkKind.Pin ? Marks().Where(m => m.Kind == PlanMarkKind.Pin && m.Truck == mark.Truck).Select(m => m.Id).ToList() : [];
        return mark with { Id = store.AddPlanMark(JsonSerializer.Serialize(mark with { Id = 0 }, ModelsJson.Default.PlanMark), replaced) };
    }

    /// <summary>Takes a mark off; false where there is none of that id.</summary>
    public bool Remove(long id) => store.RemovePlanMark(id);

    private static RebuildPlan? Read(string? json)
    {
        try
        {
            return json is null ? null : JsonSerializer.Deserialize(json, ModelsJson.Default.RebuildPlan);
        }
        catch (JsonException)
        {
            // Written by another version: the plan is made anew, only what has moved is not known.
            return null;
        }
    }
}
