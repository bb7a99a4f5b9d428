using Microsoft.Extensions.Logging;

namespace Vanehour.Ingest;

/// <summary>The worker's log lines. None is written for a single message: counters carry volume.</summary>
internal static partial class IngestLog
{
    [LoggerMessage(1, LogLevel.Information, "Ingest starts: {Settings}")]
    public static partial void Starting(ILogger logger, string settings);

    [LoggerMessage(2, LogLevel.Information, "Connected to {Broker} as {ClientId}")]
    public static partial void Connected(ILogger logger, string broker, string clientId);

    [LoggerMessage(3, LogLevel.Warning, "{Problem} Next attempt in {WaitS:0.0} s.")]
    public static partial void ConnectionLost(ILogger logger, string problem, double waitS);

    [LoggerMessage(4, LogLevel.Warning, "{Problem} Next attempt in {WaitS:0.0} s.")]
    public static partial void ConnectionFailed(ILogger logger, string problem, double waitS);

    [LoggerMessage(5, LogLevel.Warning, "The store cannot take a batch of {Samples} samples and {Rejects} rejects: {Problem} Nothing is acknowledged meanwhile. Next attempt in {WaitS:0.0} s.")]
    public static partial void StoreUnavailable(ILogger logger, int samples, int rejects, string problem, double waitS);

    [LoggerMessage(6, LogLevel.Information, "The store takes batches again")]
    public static partial void StoreAvailable(ILogger logger);

    [LoggerMessage(7, LogLevel.Warning, "Stopped with {Messages} messages not stored in time; the broker keeps them and sends them again")]
    public static partial void LeftBehind(ILogger logger, long messages);

    [LoggerMessage(8, LogLevel.Information, "Ingest stopped: {Acknowledged} messages acknowledged, {Samples} samples stored, {Rejects} rejects")]
    public static partial void Stopped(ILogger logger, long acknowledged, long samples, long rejects);

    [LoggerMessage(9, LogLevel.Warning, "More than {Limit} trucks have been heard; further ones are refused")]
    public static partial void TooManyTrucks(ILogger logger, int limit);

    [LoggerMessage(10, LogLevel.Critical, "{Problem}")]
    public static partial void Failed(ILogger logger, string problem);
}
