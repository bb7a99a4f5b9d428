using System.Net;
using System.Net.Sockets;
using Microsoft.Data.Sqlite;
using Vanehour.Tests.Loopback;

namespace Vanehour.Host.Tests;

public sealed class CliTests : IDisposable
{
    private readonly CommandLine cli = new();

    public static TheoryData<string> Commands() =>
        new("demo", "serve", "ingest", "import", "analyse", "trucks", "runs", "findings", "models", "wear", "life", "compare", "plan", "rounds", "record", "rejects", "report", "simulate", "evaluate", "drill", "export", "copy-store", "backup", "restore", "health", "check-store");

    public void Dispose() => cli.Dispose();

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task EveryCommandHasHelpWithAnExample(string command)
    {
        var (code, output, _) = await cli.RunAsync(command, "--help");
        Assert.Equal(ExitCode.Done, code);
        Assert.Contains($"Example: vanehour {command}", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("nonsense")]
    [InlineData("wear", "--nonsense")]
    [InlineData("wear", "--json", "--csv")]
    [InlineData("runs")]
    [InlineData("rounds", "--json", "--csv")]
    [InlineData("rounds", "done", "T1", "daily")]
    [InlineData("demo", "--trucks", "0")]
    [InlineData("demo", "--trucks", "many")]
    [InlineData("demo", "--from", "5.1.2026")]
    [InlineData("demo", "--port", "70000")]
    [InlineData("rejects", "--limit", "0")]
    [InlineData("serve", "--broker", "http://example.org")]
    [InlineData("serve", "--embedded-broker", "--broker", "mqtt://example.org")]
    [InlineData("serve", "--port", "1884")]
    [InlineData("analyse", "--as-of", "yesterday")]
    [InlineData("simulate")]
    [InlineData("evaluate")]
    [InlineData("evaluate", "--truth", "truth.jsonl", "--every", "0")]
    [InlineData("export", "everything")]
    [InlineData("export", "wear", "--from", "2026-01-01")]
    [InlineData("backup")]
    [InlineData("restore", "--force")]
    [InlineData("check-store")]
    [InlineData("ingest", "--store", "csv")]
    public async Task WrongUsageIsTwoWithASentenceAndNothingOnStandardOutput(params string[] args)
    {
        var (code, output, error) = await cli.RunAsync(args);
        Assert.Equal(ExitCode.WrongUsage, code);
        Assert.Empty(output);
        Assert.Contains("--help'", error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(cli.Data));
    }

    [Theory]
    [InlineData("'many' is not a whole number that fits for --trucks.", "demo", "--trucks", "many")]
    [InlineData("'nine' is not a whole number that fits for --port.", "demo", "--port", "nine")]
    [InlineData("'nine' is not a whole number that fits for --port.", "serve", "--embedded-broker", "--port", "nine")]
    [InlineData("'nine' is not a whole number that fits for --board-port.", "board", "--board-port", "nine")]
    [InlineData("'x' is not a whole number that fits for --limit.", "rejects", "--limit", "x")]
    [InlineData("'x' is not a whole number that fits for --difficulty.", "drill", "new", "--difficulty", "x", "--data", "new")]
    [InlineData("'Metric' is not one of Trade, Si for --units.", "findings", "--units", "Metric")]
    [InlineData("Unrecognized command or argument 'nonsense'.", "nonsense")]
    public async Task WrongUsageIsSaidInWordsForAPerson(string expected, params string[] args)
    {
        var (_, _, error) = await cli.RunAsync(args);
        Assert.Equal(expected, error.Split('\n')[0]);
        Assert.DoesNotContain("Required command", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NoCommandSaysWhereToStart()
    {
        using var output = new StringWriter();
        using var error = new StringWriter { NewLine = "\n" };
        var code = await Cli.RunAsync([], new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
        Assert.Equal(ExitCode.WrongUsage, code);
        Assert.Equal("Name a command; 'vanehour demo' shows the whole job with a simulated fleet.\nSee 'vanehour --help'.\n", error.ToString());
    }

    [Fact]
    public async Task HelpListsTheCommandsWithALineEach_AndDatesAreIso()
    {
        var (code, output, _) = await cli.RunAsync("--help");
        Assert.Equal(ExitCode.Done, code);
        Assert.Equal(2, output.Split("Example:").Length);
        (_, output, _) = await cli.RunAsync("demo", "--help");
        Assert.Contains("(default: 2026-01-05)", output, StringComparison.Ordinal);
        Assert.DoesNotContain("01/05/2026", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("trucks")]
    [InlineData("wear")]
    [InlineData("life")]
    [InlineData("compare")]
    [InlineData("findings")]
    [InlineData("models")]
    [InlineData("rounds")]
    [InlineData("rounds", "done", "T1", "daily", "--by", "Ann")]
    [InlineData("rounds", "sheet")]
    [InlineData("rejects")]
    [InlineData("runs", "T1")]
    [InlineData("report")]
    [InlineData("analyse")]
    [InlineData("export", "samples")]
    [InlineData("backup", "--to", "never-made")]
    [InlineData("copy-store", "--from", "sqlite", "--to", "sqlite")]
    public async Task AListingOfAFolderWithoutDataSaysSoAndMakesNothing(params string[] args)
    {
        await FailsAsync("There is no Vanehour data in", args);
        Assert.False(Directory.Exists(cli.Data));
    }

    [Fact]
    public async Task ABrokerThatIsNotThereIsOneSentence()
    {
        using var reserved = new ReservedPort();
        var port = reserved.Number;
        await FailsAsync($"127.0.0.1:{port}", "ingest", "--broker", $"mqtt://127.0.0.1:{port}");
        await FailsAsync($"127.0.0.1:{port}", "serve", "--broker", $"mqtt://127.0.0.1:{port}");
        await FailsAsync($"127.0.0.1:{port}", "simulate", "--broker", $"mqtt://127.0.0.1:{port}", "--trucks", "1", "--months", "1");
    }

    [Fact]
    public async Task APortThatIsTakenIsOneSentence()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        var port = ((IPEndPoint)listener.LocalEndpoint).Port;
        var text = port.ToString(System.Globalization.CultureInfo.InvariantCulture);
        await FailsAsync($"Port {port} is taken", "serve", "--embedded-broker", "--port", text);
        await FailsAsync($"Port {port} is taken", "demo", "--once", "--port", text, "--trucks", "1", "--months", "1");
    }

    [Fact]
    public async Task ADataFolderThatCannotBeMadeIsOneSentence()
    {
        var file = cli.File("file", "x");
        await FailsAsync("cannot be made or written to", "import", file, "--data", Path.Combine(file, "data"));
    }

    [Fact]
    public async Task AFileThatIsNoDatabaseOfOursIsOneSentence()
    {
        Directory.CreateDirectory(cli.Data);
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "fleet.db"), new string('x', 5000));
        await FailsAsync("is not a Vanehour database", "trucks");
    }

    [Fact]
    public async Task ADatabaseOfANewerVersionIsOneSentence()
    {
        await cli.RunAsync("import", cli.File("models.csv", "model"));
        await using (var connection = new SqliteConnection($"Data Source={Path.Combine(cli.Data, "fleet.db")};Pooling=False"))
        {
            await connection.OpenAsync();
            await using var command = connection.CreateCommand();
            command.CommandText = "PRAGMA user_version=999";
            await command.ExecuteNonQueryAsync();
        }

        await FailsAsync("was written by a newer Vanehour", "trucks");
    }

    [Theory]
    [InlineData("{ \"Ingest\": { \"Host\": ", "not valid JSON")]
    [InlineData("{ \"Ingset\": { \"Host\": \"x\" } }", "section 'Ingset' that does not exist")]
    [InlineData("{ \"Ingest\": { \"Hots\": \"x\" } }", "Hots")]
    [InlineData("{ \"Ingest\": { \"ReceiveMaximum\": \"lots\" } }", "'lots' at Ingest:ReceiveMaximum is not a whole number.")]
    [InlineData("{ \"Ingest\": { \"ReceiveMaximum\": 0 } }", "ReceiveMaximum")]
    public async Task SettingsThatCannotBeUsedAreOneSentence(string settings, string expected)
    {
        Directory.CreateDirectory(cli.Data);
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), settings);
        using var port = new ReservedPort();
        await FailsAsync(expected, "ingest", "--broker", $"mqtt://127.0.0.1:{port.Number}");
    }

    [Fact]
    public async Task ADemoIsNotMixedIntoAnotherFleet()
    {
        await FailsAsync("in the future", "demo", "--once", "--from", "2100-01-01");
        await File.WriteAllTextAsync(cli.File("pump-models.csv", ""), Models);
        await File.WriteAllTextAsync(cli.File("trucks.csv", ""), Trucks);
        var (code, output, error) = await cli.RunAsync("import", Path.Combine(cli.Folder, "trucks.csv"), Path.Combine(cli.Folder, "pump-models.csv"));
        Assert.True(code == ExitCode.Done, error);
        Assert.Contains("trucks.csv: 1 truck read, 1 added or changed.", output, StringComparison.Ordinal);
        await FailsAsync("holds a fleet that is not a demo's", "demo", "--once");
        await FailsAsync("Nothing in", "wear");
        await FailsAsync("Truck 'T9' is not registered; see 'vanehour trucks'.", "runs", "T9");
        await FailsAsync("Truck 't1' is not registered; did you mean T1?", "runs", "t1");
        await FailsAsync("No truck is in a yard 'Nowhere'; there are ", "trucks", "--yard", "Nowhere");
        (code, output, _) = await cli.RunAsync("trucks", "--csv");
        Assert.Equal(ExitCode.Done, code);
        Assert.Contains("T1,,North,Alder 400,S-1,,,,yes", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnImportThatFailsNamesEveryBadRowAndIsOne()
    {
        var (code, output, error) = await cli.RunAsync("import", cli.File("pump-models.csv", Models.Replace(",0.75", ",7.5", StringComparison.Ordinal)));
        Assert.Equal(ExitCode.Failed, code);
        Assert.Empty(output);
        Assert.Contains("pump-models.csv, line 2, column flow_kept_limit:", error, StringComparison.Ordinal);
        Assert.Contains("nothing imported", error, StringComparison.Ordinal);
        await FailsAsync("There is no file", "import", Path.Combine(cli.Folder, "missing.csv"));
    }

    [Fact]
    public async Task TheTruthIsNeverWrittenIntoTheDataFolder() =>
        await FailsAsync("lies in the data folder", "simulate", "--trucks", "1", "--months", "1", "--truth", Path.Combine(cli.Data, "truth.jsonl"));

    private const string Models =
        "model,rated_speed_rpm,min_speed_rpm,max_speed_rpm,free_air_cfm,max_vacuum_inhg,max_pressure_psi,max_temperature_degf,flow_kept_limit\n"
        + "Alder 400,1200,1000,1400,400,20,20,350,0.75\n";

    private const string Trucks =
        "truck,yard,pump_model,pump_serial,pump_fitted,meter_at_fitting_h,tank_gal,time_zone\nT1,North,Alder 400,S-1,2026-01-05,100,3000,America/Chicago\n";

    private async Task FailsAsync(string sentence, params string[] args)
    {
        var (code, _, error) = await cli.RunAsync(args);
        Assert.True(code == ExitCode.Failed, $"code {code}: {error}");
        Assert.Contains(sentence, error, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", error, StringComparison.Ordinal);
    }
}
