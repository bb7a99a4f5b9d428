using Vanehour.Models.Planning;

namespace Vanehour.Reports.Planning;

/// <summary>What the picture of a plan is drawn from.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Options">What the workshop can do.</param>
/// <param name="Marks">Pins and blocks.</param>
/// <param name="Yards">Every yard.</param>
public sealed record PlanReportData(RebuildPlan Plan, PlanOptions Options, IReadOnlyList<PlanMark> Marks, IReadOnlyList<string> Yards);
