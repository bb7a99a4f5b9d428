using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;
using Vanehour.Board.Desk;
using Vanehour.Host.Composition;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.Comparing;
using Vanehour.Models.Planning;
using Vanehour.Reports.Calendars;
using Vanehour.Reports.Comparing;

namespace Vanehour.Host.Pages;

/// <summary>
/// Does what people ask of the pages by running the command that does it, in this process: so page and command line can never say or do different things. Each
/// deed is noted in a file of its own, with who asked for it and when.
/// </summary>
/// <param name="data">The data folder.</param>
/// <param name="time">The clock.</param>
/// <param name="analyst">Who analyses when that is asked for.</param>
internal sealed class CommandDesk(DataFolder data, TimeProvider time, AnalysisOnRequest analyst) : IFleetDesk, IDisposable
{
    /// <summary>The file of deeds in the data folder, a JSON object a line.</summary>
    public const string DeedsFile = "board-deeds.jsonl";

    // Longer than that nobody should stare at an empty page.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    // One deed at a time: two people who pin at once must not both be told that the week was free.
    private readonly SemaphoreSlim oneDeed = new(1, 1);
    private readonly SlowWork<ComparisonReportData?> comparison = new();
    private readonly ConcurrentDictionary<DeskQuery, SlowWork<DeskListing>> slowListings = new();

    public bool IsAnalysing => analyst.IsAtWork;

    public string? AnalysisProblem => analyst.Problem;

    public void AskForAnalysis() => analyst.Ask();

    public async Task<DeskListing> ListAsync(DeskQuery query, CancellationToken cancellationToken)
    {
        if (DeskArguments.Of(query) is not { } arguments)
        {
            return new DeskListing([], ["A truck must be named for that."], Made: false);
        }

        if (query.List is not (DeskList.Compare or DeskList.Life or DeskList.Models))
        {
            return await ListAsync(arguments, cancellationToken);
        }

        // These read every run of the fleet.
        var (isDone, listing) = await slowListings.GetOrAdd(query, _ => new SlowWork<DeskListing>()).GetAsync(State(), () => ListAsync(arguments, CancellationToken.None), Patience, cancellationToken);
        return isDone ? listing! : new DeskListing([], ["This is being worked out; come back to this page in a minute."], Made: false);
    }

    public async Task<DeskFile> ExportAsync(DeskQuery query, DeskFormat format, CancellationToken cancellationToken)
    {
        if (DeskArguments.Of(query) is not { } arguments)
        {
            return new DeskFile(null, "A truck must be named for that, as ?truck=T01.");
        }

        if (format == DeskFormat.Calendar)
        {
            return await Task.Run(() => Calendar(query, cancellationToken), cancellationToken);
        }

        using var output = new DeskOutput();
        var (code, errors) = await RunAsync([.. arguments, format == DeskFormat.Json ? "--json" : "--csv"], output, cancellationToken);
        return code == ExitCode.Done ? new DeskFile(output.ToString(), null) : new DeskFile(null, string.Join(' ', errors));
    }

    public async Task<DeskAnswer> DoAsync(DeskDeed deed, string by, CancellationToken cancellationToken)
    {
        if (DeskArguments.Of(deed, by, out var problem) is not { } arguments)
        {
            return new DeskAnswer(false, [problem!]);
        }

        await oneDeed.WaitAsync(cancellationToken);
        try
        {
            using var output = new DeskOutput();

            // Once begun it is done: somebody who closes the page has still sent the form.
            var (code, errors) = await RunAsync(arguments, output, CancellationToken.None);
            var answer = code == ExitCode.Done ? new DeskAnswer(true, output.Sentences) : new DeskAnswer(false, errors);
            await NoteAsync(by, arguments, answer.Done);
            return answer;
        }
        finally
        {
            oneDeed.Release();
        }
    }

    public async Task<ComparisonReportData?> CompareAsync(CancellationToken cancellationToken)
    {
        try
        {
            return (await comparison.GetAsync(State(), () => Task.FromResult<ComparisonReportData?>(Compare()), Patience, cancellationToken)).Value;
        }
        catch (CommandFailedException)
        {
            // The table beside the picture says why.
            return null;
        }
    }

    public void Dispose() => oneDeed.Dispose();

    // What comparisons rest on: an analysis and the service records.
    private string State() => string.Create(
        CultureInfo.InvariantCulture, $"{data.Results.LatestAsOf():O} {(data.ServiceBook(time).History() is [.., var last] ? last.Number : 0)} {data.Register.ServiceRecords().Count} {data.Register.Trucks().Count}");

    private async Task<DeskListing> ListAsync(IReadOnlyList<string> arguments, CancellationToken cancellationToken)
    {
        using var output = new DeskOutput();
        var (code, errors) = await RunAsync(arguments, output, cancellationToken);
        return code == ExitCode.Done ? new DeskListing(output.Tables, output.Sentences, Made: true) : new DeskListing([], errors, Made: false);
    }

    private ComparisonReportData Compare()
    {
        var reading = Commands.LifeReading.Of(data, data.Register.Trucks().Select(t => t.Id).ToHashSet(StringComparer.Ordinal), time, CancellationToken.None);
        var settings = SettingsFile.Bind<AnalysisOptions>(SettingsFile.Read(data.Folder), "Analysis");
        var comparison = new ModelComparer(reading.Options, settings.Expectation).Compare(reading.Table, reading.Pumps, data.Results.LatestAsOf() is { } asOf ? [.. new AnalysisReader(data.Results, data.Findings).WearOf(asOf)] : null);
        return new ComparisonReportData(comparison, reading.AsOf, reading.Options);
    }

    private DeskFile Calendar(DeskQuery query, CancellationToken cancellationToken)
    {
        if (query.List == DeskList.Plan)
        {
            return new PlanBook(data.Plans).Latest() is { } plan ? new DeskFile(RebuildCalendar.Of(plan), null) : new DeskFile(null, "There is no plan yet: it comes with the first analysis.");
        }

        var rounds = RoundReading.Of(
            data,
            RoundReading.Now(data, time),
            t => (query.Truck is null || t.Id == query.Truck) && (query.Yard is null || t.Yard == query.Yard),
            cancellationToken);
        return new DeskFile(RoundCalendar.Of(rounds, time.GetUtcNow()), null);
    }

    private async Task<(int Code, IReadOnlyList<string> Errors)> RunAsync(IReadOnlyList<string> arguments, DeskOutput output, CancellationToken cancellationToken)
    {
        using var error = new StringWriter();
        var code = await Task.Run(
            () => Cli.RunAsync([.. arguments, $"--data={data.Folder}"], new CliEnvironment(output, error, time, ErrorIsTerminal: false), isInside: true),
            cancellationToken);
        return (code, [.. error.ToString().Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0 && !l.StartsWith("See 'vanehour", StringComparison.Ordinal))]);
    }

    private async Task NoteAsync(string by, IReadOnlyList<string> arguments, bool isDone)
    {
        using var line = new MemoryStream();
        using (var json = new Utf8JsonWriter(line))
        {
            json.WriteStartObject();
            json.WriteString("at", time.GetUtcNow().UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
            json.WriteString("by", by);
            json.WriteStartArray("deed");
            foreach (var argument in arguments)
            {
                json.WriteStringValue(argument);
            }

            json.WriteEndArray();
            json.WriteBoolean("done", isDone);
            json.WriteEndObject();
        }

        line.WriteByte((byte)'\n');
        await using var file = new FileStream(Path.Combine(data.Folder, DeedsFile), FileMode.Append, FileAccess.Write, FileShare.ReadWrite);
        await file.WriteAsync(line.ToArray());
    }
}
