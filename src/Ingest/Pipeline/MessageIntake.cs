using System.Globalization;
using System.Threading.RateLimiting;
using Microsoft.Extensions.Logging;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Payloads;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Pipeline;

/// <summary>Checks one message after the other and decodes it into a batch. Holds no state of a truck but its id and, where settings ask for it, its allowance.</summary>
internal sealed class MessageIntake : IDisposable
{
    private readonly IngestOptions options;
    private readonly ILogger logger;
    private readonly TopicPattern[] topics;
    private readonly SampleDecoder decoder;
    private readonly PartitionedRateLimiter<string>? limiter;
    private readonly HashSet<string> trucks = new(StringComparer.Ordinal);
    private readonly HashSet<string>.AlternateLookup<ReadOnlySpan<char>> truckBySpan;
    private bool toldTooMany;

    public MessageIntake(IngestOptions options, ILogger logger)
    {
        this.options = options;
        this.logger = logger;
        topics = [.. options.EffectiveTopics.Select(t => TopicPattern.TryParse(t, out var problem) ?? throw new ArgumentException(problem, nameof(options)))];
        decoder = new SampleDecoder(new SignalNames(options.Names), new DecodeLimits
        {
            MaxPayloadBytes = options.MaxPayloadBytes,
            MaxRecords = options.MaxRecords,
            MaxAhead = options.MaxAhead,
            AdmitRelativeTime = options.AdmitRelativeTime,
        });
        truckBySpan = trucks.GetAlternateLookup<ReadOnlySpan<char>>();
        if (options.RatePerSecond > 0)
        {
            limiter = PartitionedRateLimiter.Create<string, string>(
                truck => RateLimitPartition.GetTokenBucketLimiter(truck, _ => new TokenBucketRateLimiterOptions
                {
                    TokenLimit = options.RatePerSecond + options.RateBurst,
                    TokensPerPeriod = options.RatePerSecond,
                    ReplenishmentPeriod = TimeSpan.FromSeconds(1),
                    AutoReplenishment = true,
                }),
                StringComparer.Ordinal);
        }
    }

    /// <summary>Makes trucks known that the store already holds: they never count as new.</summary>
    public void Know(IEnumerable<string> known) => trucks.UnionWith(known);

    /// <summary>Takes a message into a batch, whatever it holds.</summary>
    public void Take(FeedMessage message, IngestBatch batch)
    {
        batch.Messages.Add(message);
        batch.Rejects.Open(message.Topic, message.ArrivedMs, message.Payload);
        var tally = Decode(message, batch);
        batch.BaseOnly += tally.BaseOnly;
        batch.LeftOut += tally.LeftOut;
        message.ReleasePayload();
    }

    public void Dispose() => limiter?.Dispose();

    private DecodeTally Decode(FeedMessage message, IngestBatch batch)
    {
        if (!TryFindTruck(message.Topic, out var id))
        {
            return Refuse(RejectReason.UnknownTopic, "the topic names no valid truck");
        }

        // Before the decoder's own check, since of such a payload only the first part is held.
        if (message.PayloadBytes > options.MaxPayloadBytes)
        {
            return Refuse(RejectReason.PayloadTooLarge, string.Create(
                CultureInfo.InvariantCulture, $"{message.PayloadBytes} bytes; at most {options.MaxPayloadBytes} are taken"));
        }

        var isKnown = truckBySpan.TryGetValue(id, out var truck);
        if (!isKnown && trucks.Count >= options.MaxTrucks)
        {
            if (!toldTooMany)
            {
                toldTooMany = true;
                IngestLog.TooManyTrucks(logger, options.MaxTrucks);
            }

            return Refuse(RejectReason.TooManyTrucks, string.Create(
                CultureInfo.InvariantCulture, $"{options.MaxTrucks} trucks have been heard already"));
        }

        truck ??= id.ToString();
        if (limiter is not null)
        {
            using var lease = limiter.AttemptAcquire(truck);
            if (!lease.IsAcquired)
            {
                return Refuse(RejectReason.RateLimited, string.Create(
                    CultureInfo.InvariantCulture, $"more than {options.RatePerSecond} messages per second"));
            }
        }

        var tally = decoder.Decode(truck, message.Payload.Span, message.ArrivedMs, batch.Samples, batch.Rejects);
        if (!isKnown && tally.Samples > 0)
        {
            trucks.Add(truck);
        }

        return tally;

        DecodeTally Refuse(RejectReason reason, string why) => SampleDecoder.Refuse(batch.Rejects, reason, why);
    }

    private bool TryFindTruck(string topic, out ReadOnlySpan<char> truck)
    {
        foreach (var pattern in topics)
        {
            if (pattern.TryMatch(topic, out truck))
            {
                return true;
            }
        }

        truck = default;
        return false;
    }
}
