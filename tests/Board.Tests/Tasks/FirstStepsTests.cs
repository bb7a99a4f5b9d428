using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Data.Sqlite;
using Vanehour.Board.Tests.Running;
using Vanehour.Host.Composition;
using Vanehour.Ingest.Payloads;

namespace Vanehour.Board.Tests.Tasks;

/// <summary>What somebody sees who has nothing yet.</summary>
[Collection(OnDemoFleet.Name)]
public sealed partial class FirstStepsTests(DemoFleet demo)
{
    [SkippableFact]
    public async Task AnEmptyFolderSaysHowToBegin_WithAMessageThatTheIntakeTakes()
    {
        var folder = demo.Empty();
        DataFolder.Open(folder).Dispose();
        SqliteConnection.ClearAllPools();
        await using var board = await RunningBoard.StartAsync(folder);
        await using var window = await demo.Browser.OpenAsync(board.Address);
        await window.GoAsync("/");
        var text = await window.Page.Locator("main").InnerTextAsync();
        Assert.Contains("fleet/TRUCK/pump", text, StringComparison.Ordinal);
        Assert.Contains("vanehour import pump-models.csv trucks.csv service.csv --data " + folder, text, StringComparison.Ordinal);
        Assert.Contains("vanehour serve --broker", text, StringComparison.Ordinal);
        Assert.Contains("No truck is registered yet.", text, StringComparison.Ordinal);

        var blocks = await window.Page.Locator("pre code").AllInnerTextsAsync();
        var message = Assert.Single(blocks, b => b.StartsWith('['));
        var published = Published().Match(Assert.Single(blocks, b => b.StartsWith("mosquitto_pub", StringComparison.Ordinal)));
        Assert.Equal(message, published.Groups["message"].Value);
        var pack = SenMLResolver.Resolve(Encoding.UTF8.GetBytes(message), TimeProvider.System.GetUtcNow().ToUnixTimeSeconds());
        Assert.Empty(pack.Faults);
        Assert.Equal(3, pack.Records.Count);

        // Every page is there, and none has anything to show.
        foreach (var path in new[] { "/plan", "/rounds", "/findings", "/models", "/feeds", "/data", "/training" })
        {
            await window.GoAsync(path);
        }

        Assert.Empty(window.Complaints);
    }

    [GeneratedRegex("-t fleet/(?<truck>[^/ ]+)/pump -q 1 -m '(?<message>[^']+)'")]
    private static partial Regex Published();
}
