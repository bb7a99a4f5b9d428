using System.Collections.Concurrent;
using System.ComponentModel;
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
/// Does what people ask of the pages by running the command that does it, in this process or one beside it: so page and command line say and do the same. Each
/// deed is noted in a file of its own, with who asked for it and when.
/// </summary>
/// <param name="data">The data folder.</param>
/// <param name="time">The clock.</param>
/// <param name="analyst">Who analyses when that is asked for.</param>
internal sealed class CommandDesk(DataFolder data, TimeProvider time, AnalysisOnRequest analyst) : IFleetDesk, IDisposable
{
    private static readonly DeskListing Unfinished = new([], ["This is being worked out; come back to this page in a minute."], Made: false);

    // Longer than that nobody should stare at an empty page.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    // For somebody who has asked for a file.
    private static readonly TimeSpan LongPatience = TimeSpan.FromMinutes(2);

    private const string Stops = "The Board is being stopped.";

    private static readonly TimeSpan StateGoodFor = TimeSpan.FromSeconds(5);

    private readonly CancellationTokenSource stop = new();
    private StateAt? state;

    // One deed at a time: two people who pin at once must not both be told that the week was free.
    private readonly SemaphoreSlim oneDeed = new(1, 1);
    private readonly DeedNotes deeds = new(data.Folder, time);

    // Large listings are held in memory while they are made: few at a time.
    private readonly SemaphoreSlim fewListings = new(3, 3);

    // What reads every run of the fleet goes on in one process beside this one, one after the other.
    private readonly SemaphoreSlim oneProcess = new(1, 1);
    private readonly SlowWork<(DeskListing Listing, string? Svg)> comparison = new(c => c.Listing.Made);
    private readonly SlowWork<byte[]?> comparisonPng = new(png => png is not null);
    private readonly ConcurrentDictionary<DeskQuery, SlowWork<DeskListing>> slowListings = new();
    private readonly ConcurrentDictionary<(DeskQuery, DeskFormat), SlowWork<DeskFile>> slowFiles = new();

    public bool IsAnalysing => analyst.IsAtWork;

    public string? AnalysisProblem => analyst.Problem;

    public void AskForAnalysis() => analyst.Ask();

    public async Task<DeskListing> ListAsync(DeskQuery query, CancellationToken cancellationToken)
    {
        if (DeskArguments.Of(query, out var problem) is not { } arguments)
        {
            return new DeskListing([], [problem!], Made: false);
        }

        if (!IsSlow(query.List))
        {
            return await ListAsync(arguments, cancellationToken);
        }

        if (NoYard(query) is { } noYard)
        {
            return new DeskListing([], [noYard], Made: false);
        }

        if (query is { List: DeskList.Compare, Yard: null })
        {
            var (isCompared, compared) = await comparison.GetAsync(State(), CompareAsync, Patience, cancellationToken);
            return isCompared ? compared.Listing : Unfinished;
        }

        var work = slowListings.GetOrAdd(query, _ => new SlowWork<DeskListing>(l => l.Made));
        var (isDone, listing) = await work.GetAsync(State(), () => ListBesideAsync(arguments), Patience, cancellationToken);
        return isDone ? listing! : Unfinished;
    }

    public async Task<DeskFile> ExportAsync(DeskQuery query, DeskFormat format, CancellationToken cancellationToken)
    {
        if (DeskArguments.Of(query, out var problem) is not { } arguments)
        {
            return new DeskFile(null, problem, IsAskedWrongly: true);
        }

        if (format == DeskFormat.Calendar)
        {
            return await Task.Run(() => Calendar(query, cancellationToken), cancellationToken);
        }

        var command = DeskArguments.With(arguments, format == DeskFormat.Json ? "--json" : "--csv");
        if (IsSlow(query.List))
        {
            if (NoYard(query) is { } noYard)
            {
                return new DeskFile(null, noYard);
            }

            var work = slowFiles.GetOrAdd((query, format), _ => new SlowWork<DeskFile>(f => f.Text is not null));
            return (await work.GetAsync(State(), () => FileBesideAsync(command), LongPatience, cancellationToken)).Value ?? new DeskFile(null, "It takes longer than that; ask again in some minutes.");
        }

        using var output = new DeskOutput();
        var (code, errors) = await RunAsync(command, output, cancellationToken);
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
            // Opened before anything is done: a deed that cannot be noted is not done.
            await using var notes = deeds.Open();
            using var output = new DeskOutput();

            // Once begun it is done: somebody who closes the page has still sent the form.
            // And it waits for no listing.
            var (code, errors) = await RunNowAsync(arguments, output, CancellationToken.None);
            var answer = code == ExitCode.Done ? new DeskAnswer(true, output.Sentences) : new DeskAnswer(false, [.. errors.Select(DeskWords.ForPeople)]);
            try
            {
                deeds.Note(notes, by, arguments, answer.Done);
                return answer;
            }
            catch (IOException e)
            {
                return answer with { Sentences = [.. answer.Sentences, $"Who did it could not be noted: {e.Message}"] };
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return new DeskAnswer(false, [$"Nothing was done, since who did it cannot be noted: {e.Message}"]);
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

    /// <summary>Ends what is worked out beside this process, and with it whoever waits for it.</summary>
    public void StopSlow() => stop.Cancel();

    public void Dispose()
    {
        stop.Cancel();

        // The process beside this one is gone once its turn is over.
        oneProcess.Wait(TimeSpan.FromSeconds(5));
        oneDeed.Dispose();
        fewListings.Dispose();
        oneProcess.Dispose();
    }

    // What comparisons rest on: an analysis and the service records.
    private string State()
    {
        // Several listings of one page ask in a moment.
        if (state is not { } held || time.GetElapsedTime(held.At) > StateGoodFor)
        {
            var text = string.Create(
                CultureInfo.InvariantCulture, $"{data.Results.LatestAsOf():O} {(data.ServiceBook(time).History() is [.., var last] ? last.Number : 0)} {data.Register.ServiceRecords().Count} {data.Register.Trucks().Count} {analyst.Finished}");
            state = held = new StateAt(text, time.GetTimestamp());
        }

        return held.Text;
    }

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
            var listing = await ListBesideAsync(DeskArguments.With(arguments, $"--out={file}"));
            return (listing, listing.Made && File.Exists(file) ? await File.ReadAllBytesAsync(file) : null);
        }
        finally
        {
            File.Delete(file);
        }
    }

    // Known before a process is started for it: so there are no more works than yards.
    private string? NoYard(DeskQuery query) =>
        query.Yard is { } yard && !data.Register.Trucks().Any(t => t.Yard == yard) ? $"No truck is in a yard '{yard}'." : null;

    private static bool IsSlow(DeskList list) => list is DeskList.Compare or DeskList.Life or DeskList.Models;

    private async Task<DeskFile> FileBesideAsync(IReadOnlyList<string> arguments)
    {
        var (output, problem) = await BesideAsync(DeskArguments.With(arguments, $"--data={data.Folder}"));
        return new DeskFile(output, problem);
    }

    private async Task<DeskListing> ListBesideAsync(IReadOnlyList<string> arguments)
    {
        var (output, problem) = await BesideAsync([DeskOutput.Switch, .. DeskArguments.With(arguments, $"--data={data.Folder}")]);
        return output is null
            ? new DeskListing([], [problem!], Made: false)
            : JsonSerializer.Deserialize(output, DeskJson.Default.DeskListing) ?? throw new JsonException("A listing is empty.");
    }

    private async Task<(string? Output, string? Problem)> BesideAsync(IReadOnlyList<string> arguments)
    {
        try
        {
            await oneProcess.WaitAsync(stop.Token);
        }
        catch (OperationCanceledException)
        {
            return (null, Stops);
        }

        try
        {
            var (code, output, error) = await OwnProcess.RunAsync(arguments, stop.Token);
            return code == ExitCode.Done ? (output, null)
                : (null, string.Join(' ', Lines(error)) is { Length: > 0 } said ? said : string.Create(CultureInfo.InvariantCulture, $"The process that works it out ended with code {code}; ask again."));
        }
        catch (OperationCanceledException)
        {
            return (null, Stops);
        }
        catch (Exception e) when (e is Win32Exception or InvalidOperationException)
        {
            return (null, $"The process that works it out could not be started: {e.Message}");
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
            return await RunNowAsync(arguments, output, cancellationToken);
        }
        finally
        {
            fewListings.Release();
        }
    }

    private async Task<(int Code, IReadOnlyList<string> Errors)> RunNowAsync(IReadOnlyList<string> arguments, DeskOutput output, CancellationToken cancellationToken)
    {
        using var error = new StringWriter();
        var code = await Task.Run(
            () => Cli.RunAsync([.. DeskArguments.With(arguments, $"--data={data.Folder}")], new CliEnvironment(output, error, time, ErrorIsTerminal: false), isInside: true),
            cancellationToken);
        return (code, Lines(error.ToString()));
    }

    private static IReadOnlyList<string> Lines(string text) =>
        [.. text.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0 && !l.StartsWith("See 'vanehour", StringComparison.Ordinal))];

    private sealed record StateAt(string Text, long At);
}
