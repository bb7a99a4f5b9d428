using System.Globalization;
using System.Runtime.CompilerServices;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

/// <summary>
/// Tries with a real server what Vanehour needs of it: writing, reading back to the last bit, merging, pages, refusals. It works in a measurement of its own, with truck ids that no other
/// trial has, and deletes that measurement at the end where the server knows how.
/// </summary>
public sealed class InfluxTrial
{
    /// <summary>The measurement it works in.</summary>
    public const string Measurement = "vanehour_check";

    // More than two pages of reading and four requests of writing.
    private const int LongSeries = 22_000;

    private readonly InfluxOptions options;
    private readonly TimeProvider time;
    private readonly long startMs;
    private readonly string prefix;

    /// <summary>A trial; nothing is done yet.</summary>
    /// <param name="options">The server and the bucket. The measurement they name is left alone.</param>
    /// <param name="time">The clock: samples are of the last day, which every retention keeps.</param>
    public InfluxTrial(InfluxOptions options, TimeProvider time)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        this.options = With(options, options.Bucket, options.TokenFile);
        this.time = time;
        var now = time.GetUtcNow().ToUnixTimeMilliseconds();
        startMs = now - 80_000_000;
        prefix = string.Create(CultureInfo.InvariantCulture, $"check-{now:x}-");
    }

    /// <summary>Tries one thing after the other; goes on after a failure unless the server cannot be reached at all.</summary>
    /// <param name="folder">An empty folder for what is kept on this side.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async IAsyncEnumerable<TrialResult> RunAsync(string folder, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        using var connection = new InfluxConnection(options);
        var database = SqliteDatabase.Open(folder, SamplesSchema.Current);
        var rejects = new SqliteRejectLog(database);
        using var store = new InfluxTelemetryStore(connection, database, rejects, time);
        var check = new InfluxCheck(connection);

        var reached = await TryAsync("an InfluxDB answers", async () => "version " + await check.ReachAsync(cancellationToken));
        yield return reached;
        if (reached.Problem is not null)
        {
            yield break;
        }

        yield return await TryAsync("the bucket can be read", () => check.ReadAsync(cancellationToken));
        var writable = await TryAsync("the bucket can be written", () => check.WriteAsync(cancellationToken));
        yield return writable;
        if (writable.Problem is not null)
        {
            yield break;
        }

        yield return await TryAsync("every signal comes back to the last bit", () => EverySignalAsync(store, cancellationToken));
        yield return await TryAsync("signals of one instant merge, the last to arrive wins", () => MergeAsync(store, cancellationToken));
        yield return await TryAsync("a redelivery changes nothing, late data is noticed", () => RedeliveryAsync(store, cancellationToken));
        yield return await TryAsync("odd truck ids are ids and nothing else", () => OddNamesAsync(store, cancellationToken));
        yield return await TryAsync(
            string.Create(CultureInfo.InvariantCulture, $"a series of {LongSeries} samples comes back once"), () => LongSeriesAsync(store, cancellationToken));
        yield return await TryAsync("a malformed line is refused as wrong data", () => RefusedAsync(connection, "vanehour_check,truck=x vacuum=\n", cancellationToken));
        yield return await TryAsync("a field of another type is refused as wrong data", () => TypeConflictAsync(connection, cancellationToken));
        yield return await TryAsync("a bucket that is not there is said to be missing", () => MissingBucketAsync(cancellationToken));
        yield return await TryAsync("a wrong token is refused", () => WrongTokenAsync(folder, cancellationToken));
        yield return await TryAsync("nothing was refused that should not be", async () => Expect((await rejects.CountAsync(cancellationToken)).Count == 0, "samples went to the rejects"));
        yield return await CleanUpAsync(connection, cancellationToken);
    }

    private static InfluxOptions With(InfluxOptions options, string bucket, string? tokenFile) => new()
    {
        Url = options.Url,
        Org = options.Org,
        Bucket = bucket,
        TokenFile = tokenFile,
        Measurement = Measurement,
        BatchLines = options.BatchLines,
        WriteTimeout = options.WriteTimeout,
        ReadTimeout = options.ReadTimeout,
    };

    private static void Expect(bool condition, string otherwise)
    {
        if (!condition)
        {
            throw new TrialFailedException(otherwise);
        }
    }

    private static Task<TrialResult> TryAsync(string name, Func<Task> work) => TryAsync(name, async () =>
    {
        await work();
        return null;
    });

    private static async Task<TrialResult> TryAsync(string name, Func<Task<string?>> work)
    {
        try
        {
            return new TrialResult(name, null, await work());
        }
        catch (Exception e) when (e is InfluxException or StoreUnavailableException or TrialFailedException)
        {
            return new TrialResult(name, e.Message);
        }
    }

    private static async Task<List<Sample>> ReadAsync(InfluxTelemetryStore store, string truck, CancellationToken cancellationToken)
    {
        var samples = new List<Sample>();
        await foreach (var sample in store.ReadAsync(truck, long.MinValue, long.MaxValue, cancellationToken))
        {
            samples.Add(sample);
        }

        return samples;
    }

    private static async Task<InfluxException> FailureAsync(Func<Task> work, string otherwise)
    {
        try
        {
            await work();
        }
        catch (InfluxException e)
        {
            return e;
        }

        throw new TrialFailedException(otherwise);
    }

    private static async Task RefusedAsync(InfluxConnection connection, string line, CancellationToken cancellationToken)
    {
        var refusal = await FailureAsync(() => connection.WriteAsync(line, cancellationToken), "the server took it.");
        Expect(refusal.Failure == InfluxFailure.BadData, string.Create(CultureInfo.InvariantCulture, $"the server answered {refusal.Status}: {refusal.ServerMessage}"));
    }

    private static async Task<TrialResult> CleanUpAsync(InfluxConnection connection, CancellationToken cancellationToken)
    {
        const string Name = "the trial's measurement is deleted";
        try
        {
            await connection.ExecuteAsync($"DROP MEASUREMENT {InfluxQl.Identifier(Measurement)}", cancellationToken);
            return new TrialResult(Name, null);
        }
        catch (InfluxException e)
        {
            return new TrialResult(Name, null, $"not possible here ({e.ServerMessage}); delete {Measurement} by hand");
        }
    }

    private Sample At(string truck, long offsetMs, params ReadOnlySpan<(Signal Signal, double Value)> values)
    {
        var slots = SignalValues.Empty;
        foreach (var (signal, value) in values)
        {
            slots.Set(signal, value);
        }

        return new Sample(prefix + truck, startMs + offsetMs, slots);
    }

    private async Task EverySignalAsync(InfluxTelemetryStore store, CancellationToken cancellationToken)
    {
        var values = SignalValues.Empty;
        foreach (var info in SignalInfo.All)
        {
            // A third has no finite binary form: a server that rounds shows.
            values.Set(info.Signal, info.Lowest + ((info.Highest - info.Lowest) / 3));
        }

        var sample = new Sample(prefix + "all", startMs + 1, values);
        await store.WriteAsync([sample], cancellationToken);
        Expect((await ReadAsync(store, sample.Truck, cancellationToken)).SequenceEqual([sample]), "what comes back differs.");
    }

    private async Task MergeAsync(InfluxTelemetryStore store, CancellationToken cancellationToken)
    {
        await store.WriteAsync([At("merge", 0, (Signal.Vacuum, 50), (Signal.PtoHours, 1200))], cancellationToken);
        await store.WriteAsync([At("merge", 0, (Signal.PumpTemp, 80)), At("merge", 0, (Signal.Vacuum, 40))], cancellationToken);
        var expected = At("merge", 0, (Signal.Vacuum, 40), (Signal.PtoHours, 1200), (Signal.PumpTemp, 80));
        Expect((await ReadAsync(store, expected.Truck, cancellationToken)).SequenceEqual([expected]), "what comes back differs.");
    }

    private async Task RedeliveryAsync(InfluxTelemetryStore store, CancellationToken cancellationToken)
    {
        Sample[] samples = [.. Enumerable.Range(0, 10).Select(i => At("late", i * 10_000, (Signal.Vacuum, i)))];
        await store.WriteAsync(samples, cancellationToken);
        foreach (var touched in await store.TouchedAsync(cancellationToken))
        {
            await store.SettleAsync(touched, cancellationToken);
        }

        await store.WriteAsync(samples, cancellationToken);
        Expect((await store.TouchedAsync(cancellationToken)).Count == 0, "a redelivery passes for news.");
        await store.WriteAsync([At("late", 15_000, (Signal.Vacuum, 7))], cancellationToken);
        var now = await store.TouchedAsync(cancellationToken);
        Expect(now.Count == 1 && now[0].EarliestMs == startMs + 15_000, "late data is not noticed.");
        Expect((await ReadAsync(store, samples[0].Truck, cancellationToken)).Count == 11, "late data is not there.");
    }

    private async Task OddNamesAsync(InfluxTelemetryStore store, CancellationToken cancellationToken)
    {
        foreach (var name in new[] { "'; DROP MEASUREMENT x; --", "\"q\"", "a,b=c d\\", "é東", "line\nbreak" })
        {
            var sample = At(name, 0, (Signal.Vacuum, 7));
            await store.WriteAsync([sample], cancellationToken);
            Expect((await ReadAsync(store, sample.Truck, cancellationToken)).SequenceEqual([sample]), $"{name} does not come back.");
        }
    }

    private async Task LongSeriesAsync(InfluxTelemetryStore store, CancellationToken cancellationToken)
    {
        Sample[] samples = [.. Enumerable.Range(0, LongSeries).Select(i => At("long", i, (Signal.Vacuum, i % 1000 / 10.0)))];
        await store.WriteAsync(samples, cancellationToken);
        Expect((await ReadAsync(store, samples[0].Truck, cancellationToken)).SequenceEqual(samples), "what comes back differs.");
    }

    private async Task TypeConflictAsync(InfluxConnection connection, CancellationToken cancellationToken)
    {
        var line = new LineProtocol().Begin(Measurement).Tag("truck", prefix + "merge").Field("vacuum", "text").End(startMs);
        await RefusedAsync(connection, line.ToString(), cancellationToken);
    }

    private async Task MissingBucketAsync(CancellationToken cancellationToken)
    {
        // Only read: some servers make a database when they are written to.
        using var elsewhere = new InfluxConnection(With(options, prefix + "missing", options.TokenFile));
        var refusal = await FailureAsync(() => new InfluxCheck(elsewhere).ReadAsync(cancellationToken), "the server answered for a bucket that cannot be there.");
        Expect(
            refusal.Failure == InfluxFailure.NeedsPerson, string.Create(CultureInfo.InvariantCulture, $"the server answered {refusal.Status}: {refusal.ServerMessage}"));
    }

    private async Task<string?> WrongTokenAsync(string folder, CancellationToken cancellationToken)
    {
        var file = Path.Combine(folder, "wrong-token");
        await File.WriteAllTextAsync(file, "this-is-no-token", cancellationToken);
        using var stranger = new InfluxConnection(With(options, options.Bucket, file));
        try
        {
            await new InfluxCheck(stranger).ReadAsync(cancellationToken);
        }
        catch (InfluxException e)
        {
            Expect(e.Status is 401 or 403, string.Create(CultureInfo.InvariantCulture, $"the server answered {e.Status}: {e.ServerMessage}"));
            return null;
        }

        Expect(options.TokenFile is null, "a token that cannot be right is taken.");
        return "this server asks for no token";
    }

    private sealed class TrialFailedException(string message) : Exception(message);
}
