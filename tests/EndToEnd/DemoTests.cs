using System.Text.Json;
using Microsoft.Data.Sqlite;
using Vanehour.Host;
using Vanehour.Host.Composition;

namespace Vanehour.EndToEnd;

/// <summary>The README's first command, on a small fleet.</summary>
public sealed class DemoTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-demo-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task DemoDoesTheWholeJobAndASecondTimeChangesNoCount()
    {
        var (code, output, error) = await RunAsync("demo", "--once", "--trucks", "4", "--months", "2");
        Assert.True(code == ExitCode.Done, error);
        Assert.Contains("refused: 0", output, StringComparison.Ordinal);
        Assert.Contains($"6 PNG files in {Path.Combine(folder, "reports")}", output, StringComparison.Ordinal);
        Assert.All(Directory.GetFiles(Path.Combine(folder, "reports")), f => Assert.Equal(0x89, File.ReadAllBytes(f)[0]));
        var counts = await CountsAsync();
        Assert.Equal(4, counts.Trucks);
        Assert.True(counts.Samples > 50_000, $"{counts.Samples} samples");
        Assert.True(counts.Runs > 4 * 40 * 4, $"{counts.Runs} runs");
        var wear = await JsonAsync("wear", "--json");
        Assert.Equal(4, wear.GetArrayLength());
        Assert.All(wear.EnumerateArray(), w => Assert.InRange(w.GetProperty("wear").GetProperty("mid").GetDouble(), -0.1, 1.2));

        var (again, _, secondError) = await RunAsync("demo", "--once", "--trucks", "4", "--months", "2");
        Assert.True(again == ExitCode.Done, secondError);
        Assert.Equal(counts, await CountsAsync());
        Assert.Equal(wear.GetRawText(), (await JsonAsync("wear", "--json")).GetRawText());

        var (other, _, otherError) = await RunAsync("demo", "--once", "--trucks", "4", "--months", "2", "--seed", "2");
        Assert.Equal(ExitCode.Failed, other);
        Assert.Contains("holds another demo", otherError, StringComparison.Ordinal);
    }

    private async Task<JsonElement> JsonAsync(params string[] args)
    {
        var (code, output, error) = await RunAsync(args);
        Assert.True(code == ExitCode.Done, error);
        return JsonDocument.Parse(output).RootElement;
    }

    private async Task<(int Code, string Out, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await Cli.RunAsync([.. args, "--data", folder], new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
        return (code, output.ToString(), error.ToString());
    }

    private async Task<(int Trucks, long Samples, int Runs, int Findings)> CountsAsync()
    {
        using var data = DataFolder.Open(folder);
        var trucks = await data.Samples.TrucksAsync(default);
        return (trucks.Count, trucks.Sum(t => t.Samples), trucks.Sum(t => data.Runs.Read(t.Truck).Count), data.Findings.Read().Count);
    }
}
