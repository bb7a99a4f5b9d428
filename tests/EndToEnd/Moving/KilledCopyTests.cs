using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Host;
using Vanehour.Host.Composition;
using Vanehour.Host.Moving;

namespace Vanehour.EndToEnd.Moving;

/// <summary>A copy between stores in a process of its own that is killed, as a power cut would, and started again.</summary>
public sealed class KilledCopyTests : IDisposable
{
    private const int Samples = 1_000_000;

    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-copy-").FullName;

    private string Old => Path.Combine(folder, "old");

    private string New => Path.Combine(folder, "new");

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task GoesOnWhereItWasAndBothEndsAreTheSame()
    {
        using (var data = DataFolder.Open(Old))
        {
            for (var first = 0; first < Samples; first += 50_000)
            {
                await data.Samples.WriteAsync([.. Enumerable.Range(first, 50_000).Select(At)], default);
            }
        }

        string[] args = ["copy-store", "--from", "sqlite", "--from-data", Old, "--to", "sqlite", "--to-data", New];
        var progress = Path.Combine(New, CopyProgressFile.Name);
        for (var attempt = 1; attempt <= 5 && !File.Exists(progress); attempt++)
        {
            // A copy that was done before this process came to kill it proves nothing: it is made anew.
            if (Directory.Exists(New))
            {
                Directory.Delete(New, recursive: true);
            }

            using var copying = Process.Start(new ProcessStartInfo("dotnet", [typeof(Cli).Assembly.Location, .. args]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
            while (!File.Exists(progress) && !copying.HasExited)
            {
                await Task.Delay(10);
            }

            copying.Kill();
            await copying.WaitForExitAsync();
        }

        Assert.True(File.Exists(progress), "Every time the copy was done before it was killed.");
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await Cli.RunAsync(args, new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
        Assert.True(code == ExitCode.Done, error.ToString());
        var copied = int.Parse(error.ToString().Split('\n').Single(l => l.Contains(" samples copied", StringComparison.Ordinal)).Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(copied, 1, Samples - StoreCopy.BatchSamples);
        using var target = DataFolder.Open(New);
        Assert.Equal(Samples, Assert.Single(await target.Samples.TrucksAsync(default)).Samples);
        Assert.False(File.Exists(progress));
    }

    private static Sample At(int n)
    {
        var values = SignalValues.Empty;
        values.Set(Signal.Vacuum, n % 1000 / 10.0);
        values.Set(Signal.PtoHours, n / 360.0);
        return new Sample("T1", 1_767_340_800_000 + (n * 10_000L), values);
    }
}
