namespace Vanehour.Store.Influx;

/// <summary>Where an InfluxDB is and how to deal with it.</summary>
public sealed class InfluxOptions
{
    /// <summary>The most lines sent in one request: what InfluxDB's makers advise, common practice.</summary>
    public const int LargestBatch = 5000;

    /// <summary>The server, for example http://localhost:8086.</summary>
    public string Url { get; set; } = "http://localhost:8086";

    /// <summary>The organisation; InfluxDB 1.8 and 3 have none and ignore it.</summary>
    public string? Org { get; set; }

    /// <summary>The bucket; on InfluxDB 1.8 and 3 the database.</summary>
    public string Bucket { get; set; } = "vanehour";

    /// <summary>A file that holds the token and nothing else. It is read again when it changes, so that a new token needs no restart. Null: no token is sent.</summary>
    public string? TokenFile { get; set; }

    /// <summary>The measurement that samples are kept in.</summary>
    public string Measurement { get; set; } = "pump";

    /// <summary>Lines in a request, 1 to <see cref="LargestBatch"/>.</summary>
    public int BatchLines { get; set; } = LargestBatch;

    /// <summary>How long one request to write may take, more than 0.</summary>
    public TimeSpan WriteTimeout { get; set; } = TimeSpan.FromSeconds(30);

    /// <summary>How long one page of reading may take from the request to the last byte, more than 0.</summary>
    public TimeSpan ReadTimeout { get; set; } = TimeSpan.FromSeconds(60);

    /// <summary>The first wait before trying again, more than 0.</summary>
    public TimeSpan RetryFirst { get; set; } = TimeSpan.FromMilliseconds(500);

    /// <summary>The longest wait before trying again, at least <see cref="RetryFirst"/>. A server that asks for longer (Retry-After) gets longer.</summary>
    public TimeSpan RetryLongest { get; set; } = TimeSpan.FromSeconds(30);

    /// <summary>The address without a slash at its end.</summary>
    internal string Root => Url.TrimEnd('/');

    /// <summary>What is wrong with these settings, in sentences that name the setting; empty when nothing is.</summary>
    /// <param name="section">Where the settings stand, for example Store:Influx.</param>
    public IReadOnlyList<string> Problems(string section = "Store:Influx")
    {
        var problems = new List<string>();
        if (!Uri.TryCreate(Url, UriKind.Absolute, out var uri) || uri.Scheme is not ("http" or "https") || uri.Query.Length > 0 || uri.UserInfo.Length > 0)
        {
            problems.Add($"{section}:Url must be the address of an InfluxDB like http://localhost:8086, without user, password or query.");
        }

        if (string.IsNullOrWhiteSpace(Bucket))
        {
            problems.Add($"{section}:Bucket must name the bucket (the database on InfluxDB 1.8 and 3).");
        }

        if (string.IsNullOrWhiteSpace(Measurement))
        {
            problems.Add($"{section}:Measurement must not be empty.");
        }

        if (TokenFile is not null && !File.Exists(TokenFile))
        {
            problems.Add($"{section}:TokenFile names '{TokenFile}', which is not there; put the token into that file.");
        }

        if (BatchLines is < 1 or > LargestBatch)
        {
            problems.Add($"{section}:BatchLines must lie between 1 and {LargestBatch}.");
        }

        if (WriteTimeout <= TimeSpan.Zero || ReadTimeout <= TimeSpan.Zero || WriteTimeout > TimeSpan.FromHours(1) || ReadTimeout > TimeSpan.FromHours(1))
        {
            problems.Add($"{section}:WriteTimeout and {section}:ReadTimeout must be more than 0 and at most an hour.");
        }

        if (RetryFirst <= TimeSpan.Zero || RetryLongest < RetryFirst || RetryLongest > TimeSpan.FromHours(1))
        {
            problems.Add($"{section}:RetryFirst must be more than 0 and not more than {section}:RetryLongest, which may be an hour.");
        }

        return problems;
    }
}
