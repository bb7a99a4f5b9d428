using Microsoft.Extensions.Options;
using Vanehour.Fleet;
using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest;

/// <summary>Checks the settings at the start, alone and against each other; each problem is a sentence that names the setting.</summary>
public sealed class IngestOptionsValidator : IValidateOptions<IngestOptions>
{
    /// <inheritdoc/>
    public ValidateOptionsResult Validate(string? name, IngestOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        var problems = Connection(options).Concat(Files(options)).Concat(Sizes(options)).Concat(Feed(options)).ToList();
        return problems.Count == 0 ? ValidateOptionsResult.Success : ValidateOptionsResult.Fail(problems);
    }

    private static IEnumerable<string> Connection(IngestOptions o)
    {
        if (string.IsNullOrWhiteSpace(o.Host))
        {
            yield return "Ingest:Host must name the broker's host.";
        }

        if (o.Port is < 1 or > 65535)
        {
            yield return "Ingest:Port must lie between 1 and 65535.";
        }

        if (o.SessionExpiry < TimeSpan.Zero || o.SessionExpiry.TotalSeconds >= uint.MaxValue)
        {
            yield return "Ingest:SessionExpiry must lie between 0 and 136 years.";
        }
        else if (!o.CleanStart && o.SessionExpiry < TimeSpan.FromMinutes(1))
        {
            yield return "Ingest:SessionExpiry must be a minute or more, or what arrives while the worker is away is lost; set Ingest:CleanStart if that is wanted.";
        }

        if (o.KeepAlive < TimeSpan.FromSeconds(1) || o.KeepAlive.TotalSeconds > ushort.MaxValue)
        {
            yield return "Ingest:KeepAlive must lie between 1 second and 18 hours.";
        }

        if (o.ConnectTimeout <= TimeSpan.Zero)
        {
            yield return "Ingest:ConnectTimeout must be more than 0.";
        }

        if (o.RetryFirst <= TimeSpan.Zero || o.RetryLongest < o.RetryFirst)
        {
            yield return "Ingest:RetryFirst must be more than 0 and not more than Ingest:RetryLongest.";
        }

        if (o.DrainLimit < TimeSpan.Zero)
        {
            yield return "Ingest:DrainLimit must not be negative.";
        }
    }

    private static IEnumerable<string> Files(IngestOptions o)
    {
        if (o.Password is not null && o.PasswordFile is not null)
        {
            yield return "Set Ingest:Password or Ingest:PasswordFile, not both.";
        }

        if ((o.Password is not null || o.PasswordFile is not null) && string.IsNullOrEmpty(o.User))
        {
            yield return "A password needs Ingest:User.";
        }

        if ((o.ClientCertificateFile is null) != (o.ClientKeyFile is null))
        {
            yield return "Ingest:ClientCertificateFile and Ingest:ClientKeyFile go together.";
        }

        if (!o.Tls && (o.CaFile is not null || o.ClientCertificateFile is not null))
        {
            yield return "Ingest:CaFile and Ingest:ClientCertificateFile need TLS: set Ingest:Tls or write the broker as mqtts://.";
        }

        foreach (var (setting, file) in new[]
        {
            ("CaFile", o.CaFile), ("ClientCertificateFile", o.ClientCertificateFile), ("ClientKeyFile", o.ClientKeyFile), ("PasswordFile", o.PasswordFile),
        })
        {
            if (file is not null && !File.Exists(file))
            {
                yield return $"Ingest:{setting} names '{file}', which is not there.";
            }
        }
    }

    private static IEnumerable<string> Sizes(IngestOptions o)
    {
        if (o.ReceiveMaximum is < 1 or > 65535)
        {
            yield return "Ingest:ReceiveMaximum must lie between 1 and 65535.";
        }

        foreach (var (setting, value) in new[]
        {
            ("BatchSamples", o.BatchSamples), ("BatchMessages", o.BatchMessages), ("ChannelCapacity", o.ChannelCapacity),
            ("MaxPayloadBytes", o.MaxPayloadBytes), ("MaxRecords", o.MaxRecords), ("MaxTrucks", o.MaxTrucks),
        })
        {
            if (value < 1)
            {
                yield return $"Ingest:{setting} must be 1 or more.";
            }
        }

        if (o.BatchMessages > 1 && o.BatchMessages * 2L > o.ReceiveMaximum)
        {
            yield return "Ingest:ReceiveMaximum must be at least twice Ingest:BatchMessages, or each batch waits for the one before it to be acknowledged.";
        }

        if (o.BatchDelay <= TimeSpan.Zero || o.BatchDelay > TimeSpan.FromMinutes(1))
        {
            yield return "Ingest:BatchDelay must be more than 0 and at most a minute.";
        }

        if (o.MaxPacketBytes < o.MaxPayloadBytes + 1024L)
        {
            yield return "Ingest:MaxPacketBytes must exceed Ingest:MaxPayloadBytes by 1024 or more, or large payloads vanish at the broker without a reject.";
        }

        if (o.MaxAhead < TimeSpan.Zero || o.MaxAhead > TimeSpan.FromDays(366))
        {
            yield return "Ingest:MaxAhead must lie between 0 and 366 days.";
        }

        if (o.RatePerSecond < 0 || o.RateBurst < 0)
        {
            yield return "Ingest:RatePerSecond and Ingest:RateBurst must not be negative.";
        }

        if (o.RatePerSecond == 0 && o.RateBurst > 0)
        {
            yield return "Ingest:RateBurst needs Ingest:RatePerSecond.";
        }
    }

    private static IEnumerable<string> Feed(IngestOptions o)
    {
        foreach (var topic in o.EffectiveTopics)
        {
            if (TopicPattern.TryParse(topic, out var problem) is null)
            {
                yield return "Ingest:Topics: " + problem;
            }
        }

        if (o.ShareName is { } share && (share.Length == 0 || share.AsSpan().IndexOfAny("/+#") >= 0))
        {
            yield return "Ingest:ShareName must not be empty and must not hold '/', '+' or '#'.";
        }

        foreach (var (metric, signal) in o.Names)
        {
            if (signal.Length > 0 && SignalInfo.Find(signal) is null)
            {
                yield return $"Ingest:Names maps '{metric}' to '{signal}', which is no signal; signals are {string.Join(", ", SignalInfo.All.Select(i => i.Name))}.";
            }
        }
    }
}
