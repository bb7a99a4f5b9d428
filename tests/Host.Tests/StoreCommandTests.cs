using Vanehour.Tests.Loopback;

namespace Vanehour.Host.Tests;

/// <summary>The command line where samples are kept in an InfluxDB.</summary>
public sealed class StoreCommandTests : IDisposable
{
    private readonly CommandLine cli = new();

    private readonly ReservedPort nobody = new();

    private string NobodysUrl => $"http://127.0.0.1:{nobody.Number}";

    public void Dispose()
    {
        nobody.Dispose();
        cli.Dispose();
    }

    [Fact]
    public async Task Ingest_WithAnInfluxDbThatIsNotThere_EndsWithASentence_OnAFolderThatNeverHadOne()
    {
        var url = NobodysUrl;
        Settings($$"""{"Store":{"Kind":"Influx","Influx":{"Url":"{{url}}"} } }""");

        var (code, output, error) = await cli.RunAsync("ingest", "--broker", "mqtt://127.0.0.1:9");

        Assert.Equal(ExitCode.Failed, code);
        Assert.Empty(output);
        Assert.Contains($"InfluxDB at {url} does not answer", error, StringComparison.Ordinal);
        Assert.Contains("check that it runs, and Store:Influx:Url.", error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Store_OnTheCommandLine_OutdoesTheSettings()
    {
        Settings($$"""{"Store":{"Influx":{"Url":"{{NobodysUrl}}","TokenFile":"/nowhere/token"} } }""");

        var (code, _, error) = await cli.RunAsync("ingest", "--store", "influx", "--broker", "mqtt://127.0.0.1:9");

        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("Store:Influx:TokenFile names '/nowhere/token', which is not there; put the token into that file.", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task UnknownSetting_IsSaid()
    {
        Settings("""{"Store":{"Influx":{"Adress":"http://localhost"} } }""");

        var (code, _, error) = await cli.RunAsync("ingest");

        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("Adress", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task CheckStore_WithNobodyThere_FailsOnItsFirstLine()
    {
        var (code, output, _) = await cli.RunAsync("check-store", "--url", NobodysUrl, "--bucket", "scratch");

        Assert.Equal(ExitCode.Failed, code);
        Assert.StartsWith("FAIL  an InfluxDB answers: InfluxDB at ", output, StringComparison.Ordinal);
        Assert.EndsWith("0 passed, 1 failed\n", output, StringComparison.Ordinal);
    }

    private void Settings(string json)
    {
        Directory.CreateDirectory(cli.Data);
        File.WriteAllText(Path.Combine(cli.Data, "vanehour.json"), json);
    }
}
