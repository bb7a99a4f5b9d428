namespace Vanehour.Store.Results;

/// <summary>Keeps rebuild plans, and what people have said about them.</summary>
public interface IPlanStore
{
    /// <summary>Keeps a plan. Of older days the last one of each is kept for 400 days; the ten latest always.</summary>
    /// <param name="madeAt">When it was made.</param>
    /// <param name="asOf">The analysis it stands on.</param>
    /// <param name="json">The plan.</param>
    void SavePlan(DateTimeOffset madeAt, DateTimeOffset asOf, string json);

    /// <summary>The plan saved last, or null when there is none.</summary>
    /// <param name="asOf">Only those of an analysis at or before it.</param>
    string? LatestPlan(DateTimeOffset? asOf = null);

    /// <summary>Every mark, in the order in which they were made.</summary>
    IReadOnlyList<PlanMarkDocument> PlanMarks();

    /// <summary>In one transaction: takes some marks off and adds one.</summary>
    /// <returns>The id of the new mark.</returns>
    long AddPlanMark(string json, IReadOnlyList<long> replaced);

    /// <summary>Takes a mark off; false where there is none.</summary>
    bool RemovePlanMark(long id);
}
