using System.Globalization;
using Microsoft.Extensions.Time.Testing;

namespace Vanehour.Host.Tests;

public sealed class HealthTests : IDisposable
{
    // It stands still, so that a status grows no older while a busy machine gets round to reading it.
    private readonly CommandLine cli = new() { Time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 9, 7, 30, 0, TimeSpan.Zero)) };

    public void Dispose() => cli.Dispose();

    [Theory]
    [InlineData(0, true, true, null, null, ExitCode.Done, ExitCode.Done, "Healthy")]
    [InlineData(0, false, false, null, null, ExitCode.Failed, ExitCode.Failed, "has stopped")]
    [InlineData(-40, true, true, null, null, ExitCode.Failed, ExitCode.Failed, "has not reported since")]
    [InlineData(40, true, true, null, null, ExitCode.Failed, ExitCode.Failed, "has not reported since")]
    [InlineData(0, true, false, null, null, ExitCode.Failed, ExitCode.Done, "the broker is not connected")]
    [InlineData(0, true, true, "The disk is full.", null, ExitCode.Failed, ExitCode.Done, "The disk is full.")]
    [InlineData(0, true, true, null, -70, ExitCode.Failed, ExitCode.Done, "messages wait since")]
    public async Task TheStatusDecides(
        int writtenS, bool running, bool connected, string? storeProblem, int? waitingS, int ready, int live, string sentence)
    {
        var now = cli.Time.GetUtcNow();
        Directory.CreateDirectory(cli.Data);
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "worker-status.json"), $$"""
            { "written_at": "{{At(writtenS)}}", "process_id": 7, "running": {{Json(running)}}, "connected": {{Json(connected)}},
              "store_problem": {{(storeProblem is null ? "null" : $"\"{storeProblem}\"")}}, "last_tick": "{{At(writtenS - 5)}}",
              "waiting_since": {{(waitingS is { } w ? $"\"{At(w)}\"" : "null")}}, "backlog": 3, "samples_stored": 9 }
            """);
        var (code, output, error) = await cli.RunAsync("health");
        Assert.Equal(ready, code);
        Assert.Contains(sentence, output + error, StringComparison.Ordinal);
        Assert.Equal(live, (await cli.RunAsync("health", "--live")).Code);

        string At(int s) => now.AddSeconds(s).ToString("O", CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task AFolderWithoutAWorkerSaysSo()
    {
        var (code, _, error) = await cli.RunAsync("health");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("No worker has reported in", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(cli.Data));
    }

    private static string Json(bool value) => value ? "true" : "false";
}
