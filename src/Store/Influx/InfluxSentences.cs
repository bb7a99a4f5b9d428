using System.Globalization;

namespace Vanehour.Store.Influx;

/// <summary>Turns what went wrong with an InfluxDB into one sentence that says what to fix.</summary>
internal static class InfluxSentences
{
    // Long enough for any reason a server gives, short enough for a log line.
    private const int KeptOfMessage = 300;

    /// <summary>The class of a status code, by what can be done about it.</summary>
    public static InfluxFailure Classify(int status) => status switch
    {
        400 or 422 => InfluxFailure.BadData,
        413 => InfluxFailure.TooLarge,
        0 or 408 or 425 or 429 or >= 500 => InfluxFailure.Transient,
        _ => InfluxFailure.NeedsPerson,
    };

    /// <summary>The exception for an answer that is not 2xx, or for none at all (status 0).</summary>
    public static InfluxException Of(InfluxOptions options, int status, string serverMessage, TimeSpan? retryAfter = null, Exception? inner = null)
    {
        var said = Shorten(serverMessage);
        return new InfluxException(Classify(status), Sentence(options, status, said), inner)
        {
            Status = status,
            RetryAfter = retryAfter,
            ServerMessage = said,
        };
    }

    /// <summary>The exception for something that is no InfluxDB.</summary>
    public static InfluxException NotInflux(InfluxOptions options, string answer) => new(
        InfluxFailure.NeedsPerson, $"What answers at {options.Root} is not an InfluxDB ({answer}); correct Store:Influx:Url.");

    private static string Sentence(InfluxOptions options, int status, string said)
    {
        var server = $"InfluxDB at {options.Root}";
        var org = string.IsNullOrEmpty(options.Org) ? string.Empty : $" in the organisation '{options.Org}'";
        return status switch
        {
            0 => $"{server} does not answer ({said}); check that it runs, and Store:Influx:Url.",
            401 or 403 when options.TokenFile is null =>
                $"{server} asks for a token ({Answer(status, said)}); put one that may read and write the bucket '{options.Bucket}' into a file and name it in Store:Influx:TokenFile.",
            401 or 403 =>
                $"{server} refuses the token ({Answer(status, said)}); put one that may read and write the bucket '{options.Bucket}' into {options.TokenFile}.",
            404 => $"{server} has no bucket '{options.Bucket}'{org} ({Answer(status, said)}); make it, or correct Store:Influx:Bucket and Store:Influx:Org.",
            429 => $"{server} asks to be left alone for a while ({Answer(status, said)}).",
            >= 500 => $"{server} cannot do its work now ({Answer(status, said)}).",
            400 or 413 or 422 => $"{server} refuses what was sent ({Answer(status, said)}).",
            _ => $"{server} answered in a way no InfluxDB should ({Answer(status, said)}); check Store:Influx:Url.",
        };
    }

    private static string Answer(int status, string said) =>
        said.Length == 0 ? status.ToString(CultureInfo.InvariantCulture) : string.Create(CultureInfo.InvariantCulture, $"{status}: {said}");

    private static string Shorten(string message)
    {
        var line = message.ReplaceLineEndings(" ").Trim();
        return line.Length <= KeptOfMessage ? line : line[..KeptOfMessage] + "...";
    }
}
