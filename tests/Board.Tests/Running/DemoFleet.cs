using Microsoft.Data.Sqlite;
using Vanehour.Board.Tests.Browsing;

namespace Vanehour.Board.Tests.Running;

/// <summary>A demonstration's data folder, made once; copies of it for tests that change something; and one Board over it for those that only look.</summary>
public sealed class DemoFleet : IAsyncLifetime
{
    private readonly string root = Directory.CreateTempSubdirectory("vanehour-board-").FullName;
    private RunningBoard? looked;
    private int copies;

    /// <summary>The browser; started when first asked for.</summary>
    internal Browser Browser { get; } = new();

    /// <summary>The folder as the demonstration made it; nobody changes it.</summary>
    public string Original => Path.Combine(root, "demo");

    public async Task InitializeAsync()
    {
        // Long enough for findings, forecasts and a plan; short enough for every run of the tests.
        await CommandLine.RunAsync(Original, "demo", "--once", "--trucks", "12", "--months", "4");
        SqliteConnection.ClearAllPools();
    }

    public async Task DisposeAsync()
    {
        await Browser.DisposeAsync();
        if (looked is not null)
        {
            await looked.DisposeAsync();
        }

        SqliteConnection.ClearAllPools();
        Directory.Delete(root, recursive: true);
    }

    /// <summary>A copy of the folder.</summary>
    public string Copy()
    {
        var copy = Empty();
        foreach (var file in Directory.GetFiles(Original))
        {
            File.Copy(file, Path.Combine(copy, Path.GetFileName(file)));
        }

        return copy;
    }

    /// <summary>An empty folder.</summary>
    public string Empty() => Directory.CreateDirectory(Path.Combine(root, $"copy-{Interlocked.Increment(ref copies)}")).FullName;

    /// <summary>A Board over a copy, with a few refused messages, for tests that only look.</summary>
    internal async Task<RunningBoard> LookAsync()
    {
        if (looked is null)
        {
            var copy = Copy();
            await Refusals.AddAsync(copy);
            looked = await RunningBoard.StartAsync(copy);

            // Comparisons are worked out beside the page, and the first to look is put off where the machine is busy.
            using var visitor = new Visitor(looked);
            while ((await visitor.TextAsync("/models")).Contains("being worked out", StringComparison.Ordinal))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(200));
            }
        }

        return looked;
    }
}
