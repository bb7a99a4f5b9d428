using System.Text.Json;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet.Lives;
using Vanehour.Host.Composition;
using Vanehour.Host.Tests.Moving;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.Results;
using Vanehour.Models.Tests.Planning;
using Vanehour.Models.VaneWear;
using Vanehour.Store.Results;

namespace Vanehour.Host.Tests.Planning;

/// <summary>A data folder of trucks with made-up forecasts, as an analysis would have kept them. The clock stands on a Monday, in week 2026-W23.</summary>
internal sealed class PlanRig : IDisposable
{
    public FakeTimeProvider Time { get; } = new(PlanFleet.Now);

    public CommandLine Cli { get; }

    public PlanRig() => Cli = new CommandLine { Time = Time };

    public void Dispose() => Cli.Dispose();

    /// <summary>North: T01 and T02 soon at their limit; South: T03 later, T04 far off. One slot a week each.</summary>
    public static PlanFleet Usual() => new PlanFleet().With("T01", 8).With("T02", 9).With("T03", 14, yard: "South").With("T04", 95, yard: "South");

    public async Task FillAsync(PlanFleet? fleet = null, string? settings = null, params Finding[] findings)
    {
        var input = (fleet ?? Usual()).Input();
        Assert.Equal(ExitCode.Done, (await Cli.RunAsync("import", Cli.File("pump-models.csv", Register.Models))).Code);
        using (var data = DataFolder.Open(Cli.Data))
        {
            data.Register.Upsert([], [.. input.Trucks], []);
            new FindingBook(data.Findings).Save(findings);
        }

        Analysed(PlanFleet.Now, input.Wear);
        if (settings is not null)
        {
            await File.WriteAllTextAsync(Path.Combine(Cli.Data, "vanehour.json"), settings);
        }
    }

    /// <summary>Keeps forecasts and the plan as an analysis of that instant does.</summary>
    public void Analysed(DateTimeOffset asOf, IEnumerable<WearForecast> wear)
    {
        using var data = DataFolder.Open(Cli.Data);
        data.Results.Save(asOf, [.. wear.Select(w => new ResultDocument(ResultKind.Wear, w.Truck, JsonSerializer.Serialize(w with { AsOf = asOf }, ModelsJson.Default.WearForecast)))], 10);
        var (analysis, trucks, book) = (data.RequireAnalysis(), data.Register.Trucks(), new PlanBook(data.Plans));
        book.Save(new Planner(new PlanOptions()).Make(new PlanInput
        {
            AsOf = asOf,
            MadeAt = Time.GetUtcNow(),
            Wear = analysis.Wear,
            Findings = analysis.Findings,
            Trucks = trucks,
            FittedAt = trucks.ToDictionary(t => t.Id, t => LifeHistory.Build(t, data.Register.ServiceRecords(t.Id))[^1].FittedAt),
            Marks = book.Marks(),
            Previous = book.Latest(),
        }));
    }

    /// <summary>What a command that must succeed writes.</summary>
    public async Task<string> Said(params string[] args)
    {
        var (code, output, error) = await Cli.RunAsync(args);
        Assert.True(code == ExitCode.Done, error);
        return output;
    }

    /// <summary>The one sentence of a command that must fail and write nothing else.</summary>
    public async Task<string> Refused(params string[] args)
    {
        var (code, output, error) = await Cli.RunAsync(args);
        Assert.Equal((ExitCode.Failed, string.Empty), (code, output));
        Assert.Equal(1, error.Count(c => c == '\n'));
        return error;
    }

    public async Task<JsonElement> Json(params string[] args)
    {
        using var document = JsonDocument.Parse(await Said([.. args, "--json"]));
        return document.RootElement.Clone();
    }
}
