using Vanehour.Models.Planning;
using Vanehour.Reports.Comparing;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Words;

/// <summary>What charts show, in words.</summary>
public static class ChartAlternative
{
    public static string Of(TruckReportData data) => data.ToString();

    public static string Of(RebuildPlan plan) => plan.ToString();

    public static string Of(ComparisonReportData data) => data.ToString();
}
