using System.Collections.Concurrent;
using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using Vanehour.Board.Desk;
using Vanehour.Board.Reading;
using Vanehour.Host.Composition;
using Vanehour.Host.Serving;
using Vanehour.Models.Planning;
using Vanehour.Reports.Calendars;

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

    private const int MostSlowListings = 40;

    private static readonly DeskListing Unfinished = new([], ["This is being worked out; come back to this page in a minute."], Made: false);

    // Longer than that nobody should stare at an empty page.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    // For somebody who has asked for a file.
    private static readonly TimeSpan LongPatience = TimeSpan.FromMinutes(5);

    private readonly CancellationTokenSource stop = new();

    // One deed at a time: two people who pin at once must not both be told that the week was free.
    private readonly SemaphoreSlim oneDeed = new(1, 1);
    // Large listings are held in memory while they are made: few at a time.
    private readonly SemaphoreSlim fewListings = new(3, 3);

    // What reads every run of the fleet goes on in one process beside this one, one after the other.
    private readonly SemaphoreSlim oneProcess = new(1, 1);
    private readonly SlowWork<(DeskListing Listing, string? Svg)> comparison = new();
    private readonly SlowWork<byte[]?> comparisonPng = new();
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

        if (query is { List: DeskList.Compare, Yard: null })
        {
            var (isCompared, compared) = await comparison.GetAsync(State(), CompareAsync, Patience, cancellationToken);
            return isCompared ? compared.Listing : Unfinished;
        }

        // The state of the data is in the key of the work, so what was asked for with another yard does not pile up.
        var work = slowListings.Count > MostSlowListings ? new SlowWork<DeskListing>() : slowListings.GetOrAdd(query, _ => new SlowWork<DeskListing>());
        var (isDone, listing) = await work.GetAsync(State(), () => ListBesideAsync(arguments), Patience, cancellationToken);
        return isDone ? listing! : Unfinished;
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

    public async Task<DrawnChart?> ComparisonAsync(CancellationToken cancellationToken)
    {
        var (_, compared) = await comparison.GetAsync(State(), CompareAsync, Patience, cancellationToken);
        return compared.Svg is { } svg ? new DrawnChart("Pump models compared", Description(svg), svg) : null;
    }

    public async Task<byte[]?> ComparisonPngAsync(CancellationToken cancellationToken) =>
        (await comparisonPng.GetAsync(State(), async () => (await DrawBesideAsync(["compare"], ".png")).Picture, LongPatience, cancellationToken)).Value;

    public void Dispose()
    {
        stop.Cancel();
        oneDeed.Dispose();
        fewListings.Dispose();
        oneProcess.Dispose();
    }

    // What comparisons rest on: an analysis and the service records.
    private string State() => string.Create(
        CultureInfo.InvariantCulture, $"{data.Results.LatestAsOf():O} {(data.ServiceBook(time).History() is [.., var last] ? last.Number : 0)} {data.Register.ServiceRecords().Count} {data.Register.Trucks().Count}");

    private async Task<DeskListing> ListAsync(IReadOnlyList<string> arguments, CancellationToken cancellationToken)
    {
        using var output = new DeskOutput();
        var (code, errors) = await RunAsync(arguments, output, cancellationToken);
        return code == ExitCode.Done ? new DeskListing(output.Tables, output.Sentences, Made: true) : new DeskListing([], errors, Made: false);
    }

    private async Task<(DeskListing Listing, string? Svg)> CompareAsync()
    {
        var (listing, picture) = await DrawBesideAsync(["compare"], ".svg");
        return (listing, picture is null ? null : Encoding.UTF8.GetString(picture));
    }

    // The picture's own words, which the command that drew it put there.
    private static string Description(string svg) =>
        XDocument.Parse(svg).Root?.Elements().FirstOrDefault(e => e.Name.LocalName == "desc")?.Value ?? string.Empty;

    private async Task<(DeskListing Listing, byte[]? Picture)> DrawBesideAsync(IReadOnlyList<string> arguments, string ending)
    {
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ending);
        try
        {
            var listing = await ListBesideAsync([.. arguments, $"--out={file}"]);
            return (listing, listing.Made && File.Exists(file) ? await File.ReadAllBytesAsync(file) : null);
        }
        finally
        {
            File.Delete(file);
        }
    }

    private async Task<DeskListing> ListBesideAsync(IReadOnlyList<string> arguments)
    {
        await oneProcess.WaitAsync(stop.Token);
        try
        {
            var (code, output, error) = await OwnProcess.RunAsync([DeskOutput.Switch, .. arguments, $"--data={data.Folder}"], stop.Token);
            return code == ExitCode.Done
                ? JsonSerializer.Deserialize(output, DeskJson.Default.DeskListing) ?? throw new JsonException("A listing is empty.")
                : new DeskListing([], Lines(error), Made: false);
        }
        finally
        {
            oneProcess.Release();
        }
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
        await fewListings.WaitAsync(cancellationToken);
        try
        {
            using var error = new StringWriter();
            var code = await Task.Run(
                () => Cli.RunAsync([.. arguments, $"--data={data.Folder}"], new CliEnvironment(output, error, time, ErrorIsTerminal: false), isInside: true),
                cancellationToken);
            return (code, Lines(error.ToString()));
        }
        finally
        {
            fewListings.Release();
        }
    }

    private static IReadOnlyList<string> Lines(string text) =>
        [.. text.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0 && !l.StartsWith("See 'vanehour", StringComparison.Ordinal))];

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
