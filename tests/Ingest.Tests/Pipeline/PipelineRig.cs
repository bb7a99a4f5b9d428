using System.Collections.Concurrent;
using System.Diagnostics.Metrics;
using System.Globalization;
using System.Text;
using System.Threading.Channels;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using NSubstitute;
using Vanehour.Fleet;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Ingest.Pipeline;
using Vanehour.Store.Rejects;
using Vanehour.Store.Telemetry;

namespace Vanehour.Ingest.Tests.Pipeline;

/// <summary>A pipeline between a channel and substituted stores, with a diary of what happened in which order.</summary>
internal sealed class PipelineRig : IAsyncDisposable
{
    public const long ArrivedMs = 1_767_340_900_000;

    /// <summary>A generous end for waits, so that a defect fails a test instead of hanging it and a busy machine does not.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private readonly CancellationTokenSource giveUp = new();
    private readonly Channel<FeedMessage> channel = Channel.CreateUnbounded<FeedMessage>();
    private readonly ServiceProvider metricServices = new ServiceCollection().AddMetrics().BuildServiceProvider();
    private Task? running;

    public PipelineRig(Action<IngestOptions>? configure = null, TimeProvider? time = null)
    {
        configure?.Invoke(Options);
        Time = time ?? TimeProvider.System;
        Monitor = new IngestMonitor(Time);
        Store.TrucksAsync(default).ReturnsForAnyArgs([]);
        OnStore = samples => Note(string.Create(CultureInfo.InvariantCulture, $"store {samples.Count}"));
        OnReject = rejects =>
        {
            rejects.ToList().ForEach(Kept.Enqueue);
            return Note(string.Create(CultureInfo.InvariantCulture, $"reject {rejects.Count}"));
        };
        Store.WriteAsync(default!, default).ReturnsForAnyArgs(call => OnStore(call.Arg<IReadOnlyList<Sample>>()!));
        Rejects.AddAsync(default!, default).ReturnsForAnyArgs(call => OnReject(call.Arg<IReadOnlyList<Reject>>()!));
    }

    /// <summary>What the store does with a batch; unless set it notes it in the diary.</summary>
    public Func<IReadOnlyList<Sample>, Task> OnStore { get; set; }

    /// <summary>What the reject log does; unless set it notes it in the diary.</summary>
    public Func<IReadOnlyList<Reject>, Task> OnReject { get; set; }

    public IngestOptions Options { get; } = new() { BatchDelay = TimeSpan.FromMilliseconds(20) };

    public TimeProvider Time { get; }

    public ITelemetryStore Store { get; } = Substitute.For<ITelemetryStore>();

    public IRejectLog Rejects { get; } = Substitute.For<IRejectLog>();

    public IngestMonitor Monitor { get; }

    public IMeterFactory Meters => metricServices.GetRequiredService<IMeterFactory>();

    public ConcurrentQueue<string> Diary { get; } = new();

    public ConcurrentQueue<Reject> Kept { get; } = new();

    public Task Running => running ?? throw new InvalidOperationException("Not started.");

    public static string Pack(long second, double vacuumKpa = 50) =>
        FormattableString.Invariant($$"""[{"n":"vacuum","u":"kPa","t":{{1767340000 + second}},"v":{{vacuumKpa}}}]""");

    public void Start()
    {
        var options = Microsoft.Extensions.Options.Options.Create(Options);
        var pipeline = new IngestPipeline(
            options, Store, Rejects, Monitor, new IngestMetrics(Meters, Monitor), Time, NullLogger<IngestPipeline>.Instance);
        running = pipeline.RunAsync(channel.Reader, giveUp.Token);
    }

    public void Send(string payload, string topic = "fleet/T07/pump", string name = "ack", bool connectionGone = false, long? payloadBytes = null)
    {
        Monitor.MessageReceived();
        var bytes = Encoding.UTF8.GetBytes(payload);
        Assert.True(channel.Writer.TryWrite(new FeedMessage(topic, bytes, payloadBytes ?? bytes.Length, ArrivedMs, _ =>
        {
            Diary.Enqueue(name);
            return Task.FromResult(!connectionGone);
        })));
    }

    /// <summary>Ends the channel and waits for the pipeline to empty itself.</summary>
    public async Task FinishAsync()
    {
        channel.Writer.TryComplete();
        await Running.WaitAsync(Patience);
    }

    public Task<IngestStatus> UntilAsync(Func<IngestStatus, bool> condition) =>
        Monitor.WaitForAsync(condition, new CancellationTokenSource(Patience).Token);

    /// <summary>Writes a line in the diary.</summary>
    public Task Note(string line)
    {
        Diary.Enqueue(line);
        return Task.CompletedTask;
    }

    public void GiveUp() => giveUp.Cancel();

    public async ValueTask DisposeAsync()
    {
        await giveUp.CancelAsync();
        if (running is not null)
        {
            await running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        }

        giveUp.Dispose();
        await metricServices.DisposeAsync();
    }
}
