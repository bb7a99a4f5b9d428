namespace Vanehour.Models.Planning;

/// <summary>What jobs and failures cost, in your own money. Every default is an invented example: set them from your own invoices.</summary>
public sealed record PlanCosts
{
    /// <summary>A planned rebuild, the truck's standing included; above 0.</summary>
    public double PlannedRebuild { get; init; } = 2500;

    /// <summary>Towing a truck whose pump has failed.</summary>
    public double Tow { get; init; } = 900;

    /// <summary>Jobs lost while it is out.</summary>
    public double LostJobs { get; init; } = 3600;

    /// <summary>What a failure breaks beyond what a planned rebuild mends.</summary>
    public double DamagedPump { get; init; } = 2200;

    /// <summary>Cleaning up where it failed.</summary>
    public double CleanUp { get; init; } = 800;

    /// <summary>What putting on a spare saves over a rebuild on the truck; at most <see cref="PlannedRebuild"/>.</summary>
    public double SwapSaves { get; init; } = 300;

    /// <summary>What a vane hour thrown away is worth; null: a planned rebuild over the usual hours to the limit of the pump's model.</summary>
    public double? UnusedVaneHour { get; init; }

    /// <summary>A failure with the rebuild after it.</summary>
    public double Failure => PlannedRebuild + Tow + LostJobs + DamagedPump + CleanUp;

    /// <summary>What is wrong with these costs, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        double[] all = [PlannedRebuild, Tow, LostJobs, DamagedPump, CleanUp, SwapSaves, UnusedVaneHour ?? 0];
        if (all.Any(c => !(c is >= 0 and <= 1e9)) || !(PlannedRebuild > 0))
        {
            yield return "Costs must be from 0 to 1e9, and PlannedRebuild above 0.";
        }
        else if (!(Failure > PlannedRebuild))
        {
            yield return "A failure must cost more than a planned rebuild: set one of Tow, LostJobs, DamagedPump and CleanUp.";
        }
        else if (SwapSaves > PlannedRebuild)
        {
            yield return "SwapSaves cannot be more than PlannedRebuild.";
        }
    }
}
