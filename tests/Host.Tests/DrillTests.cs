using System.Text.Json;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Tests;

/// <summary>A drill from its setting up to its score sheet, on the command line.</summary>
public sealed class DrillTests(DrillTests.Prepared prepared) : IClassFixture<DrillTests.Prepared>, IDisposable
{
    private const string Mark = "TRAINING: this is a drill with an invented fleet.\n";

    private readonly CommandLine cli = new();

    public void Dispose() => cli.Dispose();

    [Fact]
    public void New_SaysTheComplaint_AndHowToGoOn_AndNotTheCause()
    {
        Assert.Equal(ExitCode.Done, prepared.New.Code);
        Assert.StartsWith("Drill \"Pump sounds odd when loading\", difficulty 1, seed 1: 6 trucks, and it is 2025-10-06.", prepared.New.Out, StringComparison.Ordinal);
        Assert.Contains("says:\n  \"With the tank nearly full", prepared.New.Out, StringComparison.Ordinal);
        Assert.Contains("findings --explain --data " + prepared.Folder, prepared.New.Out, StringComparison.Ordinal);
        Assert.Contains("drill answer TRUCK CAUSE ACTION --by NAME --data " + prepared.Folder, prepared.New.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("trucks")]
    [InlineData("findings")]
    [InlineData("runs", "T01")]
    [InlineData("wear")]
    [InlineData("plan")]
    [InlineData("rounds")]
    [InlineData("models")]
    [InlineData("drill", "show")]
    public async Task OrdinaryCommands_Work_AndSayThatItIsTraining_BesideTheOutput(params string[] command)
    {
        var (code, output, error) = await cli.RunAsync([.. command, "--json", "--data", prepared.Folder]);
        Assert.Equal(ExitCode.Done, code);
        Assert.StartsWith(Mark, error, StringComparison.Ordinal);
        using var json = JsonDocument.Parse(output);
    }

    [Fact]
    public async Task TheAnalysisIsThere_AsOfTheEndOfTheData_AndAnotherOneChangesNothing()
    {
        var (_, before, _) = await cli.RunAsync("findings", "--json", "--data", prepared.Folder);
        Assert.Contains("\"CarryOver\"", before, StringComparison.Ordinal);

        // Months lie between the data's end and the clock; a drill's present is the data's end all the same.
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("analyse", "--data", prepared.Folder)).Code);
        Assert.Equal(before, (await cli.RunAsync("findings", "--json", "--data", prepared.Folder)).Out);
    }

    [Fact]
    public async Task FeedsOfOtherData_AreRefused()
    {
        var trucks = cli.File("trucks.csv", "id\n");
        string[][] commands = [["demo", "--once"], ["serve", "--embedded-broker"], ["ingest"], ["import", trucks], ["simulate", "--register", Path.Combine(cli.Folder, "register")], ["drill", "new"]];
        foreach (var command in commands)
        {
            var (code, output, error) = await cli.RunAsync([.. command, "--data", prepared.Folder]);
            Assert.Equal((ExitCode.Failed, string.Empty), (code, output));
            Assert.StartsWith(Mark + prepared.Folder, error, StringComparison.Ordinal);
            Assert.Equal(2, error.Count(c => c == '\n'));
        }

        Assert.Equal(ExitCode.Failed, (await cli.RunAsync("simulate", "--register", prepared.Folder)).Code);
        Assert.False(File.Exists(Path.Combine(prepared.Folder, "trucks.csv")));
    }

    [Theory]
    [InlineData("There is no drill in ", "drill", "show")]
    [InlineData("There is no drill in ", "drill", "answer", "T01", "OilLeak", "StopNow", "--by", "Ann")]
    [InlineData("There is no drill in ", "drill", "reveal")]
    [InlineData("There is no case '99'", "drill", "new", "99")]
    [InlineData("There is no case '0'", "drill", "new", "0")]
    public async Task AFolderThatHoldsNone_IsRefused_AndLeftAlone(string sentence, params string[] command)
    {
        var (code, _, error) = await cli.RunAsync(command);
        Assert.Equal(ExitCode.Failed, code);
        Assert.StartsWith(sentence, error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(cli.Data));
    }

    [Theory]
    [InlineData("drill", "new", "--difficulty", "4")]
    [InlineData("drill", "new", "tank-leak", "--difficulty", "1")]
    [InlineData("drill", "answer", "T01", "OilLeak", "StopNow")]
    [InlineData("drill", "scores")]
    public async Task WrongUsage_IsSaid(params string[] command) => Assert.Equal(ExitCode.WrongUsage, (await cli.RunAsync(command)).Code);

    [Fact]
    public async Task AFleetsFolder_IsNeverTaken()
    {
        Directory.CreateDirectory(cli.Data);
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), "{}");
        var (code, _, error) = await cli.RunAsync("drill", "new");
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("is not empty, and a drill never mixes with other data", error, StringComparison.Ordinal);
        Assert.Equal(["vanehour.json"], Directory.GetFileSystemEntries(cli.Data).Select(Path.GetFileName));
    }

    [Fact]
    public async Task List_ShowsNumbersAndDifficulties_AndNoNames()
    {
        var (code, output, _) = await cli.RunAsync("drill", "list", "--csv");
        Assert.Equal(ExitCode.Done, code);
        Assert.Equal(DrillCases.Default.Cases.Length + 1, output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.All(DrillCases.Default.Cases, c => Assert.DoesNotContain(c.Id, output, StringComparison.Ordinal));
    }

    // On copies of the drill's own files: the databases are not touched by answers.
    [Fact]
    public async Task AnswersAreRevealedAndScored_AndSeveralFoldersMakeOneSheet()
    {
        var (ann, ben) = (Copy("ann"), Copy("ben"));
        var truck = DrillFolder.Open(ann).Read().ComplainedTruck!;
        Assert.Equal($"Kept: Ann says {truck}, CarryOver, StopNow.\n", (await cli.RunAsync("drill", "answer", truck, "carryover", "stopnow", "--by", "Ann", "--data", ann)).Out);
        Assert.Contains("the causes are OilLineChoked,", (await cli.RunAsync("drill", "answer", truck, "Carry", "StopNow", "--by", "Ann", "--data", ann)).Error, StringComparison.Ordinal);
        Assert.Contains("the actions are StopNow,", (await cli.RunAsync("drill", "answer", truck, "CarryOver", "1", "--by", "Ann", "--data", ann)).Error, StringComparison.Ordinal);
        Assert.Contains("Nobody has answered this drill yet", (await cli.RunAsync("drill", "reveal", "--data", ben)).Error, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("drill", "answer", truck, "LeakTankSide", "RepairThisWeek", "--by", "Ben", "--note", "it hisses, I think", "--data", ben)).Code);

        Assert.Contains("is not revealed yet", (await cli.RunAsync("drill", "scores", ann, ben)).Error, StringComparison.Ordinal);
        var (code, text, _) = await cli.RunAsync("drill", "reveal", "--data", ann);
        Assert.Equal(ExitCode.Done, code);
        Assert.Contains($"The truth: {truck}, CarryOver, from 2025-09-", text, StringComparison.Ordinal);
        Assert.Contains("restlessness of the pump temperature: ", text, StringComparison.Ordinal);
        Assert.Contains("the truth in place 1", text, StringComparison.Ordinal);
        Assert.Contains("What points elsewhere:\n  - SensorWrong: ", text, StringComparison.Ordinal);
        Assert.Contains("Caution: PTO off, engine off, key out", text, StringComparison.Ordinal);
        Assert.Contains("Ann: 10 of 10", text, StringComparison.Ordinal);
        Assert.Contains("invented convention", text, StringComparison.Ordinal);
        Assert.Contains("no more answers", (await cli.RunAsync("drill", "answer", truck, "CarryOver", "StopNow", "--by", "Cleo", "--data", ann)).Error, StringComparison.Ordinal);

        var (_, json, _) = await cli.RunAsync("drill", "reveal", "--json", "--data", ben);
        using var reveal = JsonDocument.Parse(json);
        Assert.Equal("CarryOver", reveal.RootElement.GetProperty("truth").GetProperty("cause").GetString());
        Assert.Equal(6, reveal.RootElement.GetProperty("scores")[0].GetProperty("total").GetInt32());

        var sheet = Path.Combine(cli.Folder, "class.csv");
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("drill", "scores", ann, ben, ann, "--sheet", sheet)).Code);
        var lines = await File.ReadAllLinesAsync(sheet);
        Assert.Equal("folder,case,difficulty,seed,name,truck,cause,action,truck_points,cause_points,action_points,total,attempts,answered_at,note", lines[0]);
        Assert.StartsWith($"ann,carry-over,1,1,Ann,{truck},CarryOver,StopNow,3,5,2,10,1,", lines[1], StringComparison.Ordinal);
        Assert.StartsWith($"ben,carry-over,1,1,Ben,{truck},LeakTankSide,RepairThisWeek,3,2,1,6,1,", lines[2], StringComparison.Ordinal);
        Assert.EndsWith("\"it hisses, I think\"", lines[2], StringComparison.Ordinal);
        Assert.Equal(3, lines.Length);
    }

    private string Copy(string name)
    {
        var to = Directory.CreateDirectory(Path.Combine(cli.Folder, name)).FullName;
        foreach (var file in new[] { DrillFolder.FileName, DrillFolder.SealedName })
        {
            File.Copy(Path.Combine(prepared.Folder, file), Path.Combine(to, file));
        }

        return to;
    }

    /// <summary>One drill, set up once: case 4, seed 1.</summary>
    public sealed class Prepared : IAsyncLifetime, IDisposable
    {
        private readonly CommandLine cli = new();

        public string Folder => cli.Data;

        public (int Code, string Out, string Error) New { get; private set; }

        public async Task InitializeAsync() => New = await cli.RunAsync("drill", "new", "4", "--seed", "1");

        public Task DisposeAsync() => Task.CompletedTask;

        public void Dispose() => cli.Dispose();
    }
}
