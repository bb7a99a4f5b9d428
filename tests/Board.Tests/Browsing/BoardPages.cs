using Microsoft.Data.Sqlite;
using Vanehour.Host.Composition;

namespace Vanehour.Board.Tests.Browsing;

/// <summary>Every page of a Board over the demonstration.</summary>
internal static class BoardPages
{
    /// <summary>The paths: each kind of page once, of the truck that is planned first and the finding that is most urgent.</summary>
    public static IReadOnlyList<string> Of(string folder)
    {
        try
        {
            using var data = DataFolder.OpenExisting(folder);
            var truck = new Models.Planning.PlanBook(data.Plans).Latest()!.Jobs[0].Truck;
            var finding = new Models.Findings.FindingBook(data.Findings).Current()[0].Id;
            return ["/", $"/trucks/{truck}", "/plan", $"/plan/{truck}", "/rounds", $"/rounds?truck={truck}", "/findings", $"/findings/{finding}", "/models", "/feeds", "/data", "/training", "/sign-in"];
        }
        finally
        {
            SqliteConnection.ClearAllPools();
        }
    }
}
