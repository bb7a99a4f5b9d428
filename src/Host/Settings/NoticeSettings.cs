namespace Vanehour.Host.Settings;

/// <summary>Who is told of findings by <c>serve</c>, section <c>Notices</c>.</summary>
public sealed class NoticeSettings
{
    /// <summary>The section's name in settings.</summary>
    public const string Section = "Notices";

    /// <summary>Whether findings are kept as retained messages at the broker.</summary>
    public bool Mqtt { get; set; } = true;

    /// <summary>Where each opened, changed and closed finding is posted to; unset: nowhere.</summary>
    public Uri? Webhook { get; set; }

    /// <summary>File whose first line is sent to the webhook as a bearer token; unset: none.</summary>
    public string? WebhookTokenFile { get; set; }

    /// <summary>How long the webhook may take to answer.</summary>
    public TimeSpan WebhookTimeout { get; set; } = TimeSpan.FromSeconds(10);

    /// <summary>How often the findings are looked at for changes.</summary>
    public TimeSpan Every { get; set; } = TimeSpan.FromSeconds(5);

    /// <summary>Wait after the first failed attempt; it doubles from there.</summary>
    public TimeSpan RetryFirst { get; set; } = TimeSpan.FromSeconds(1);

    /// <summary>Longest wait between attempts.</summary>
    public TimeSpan RetryLongest { get; set; } = TimeSpan.FromMinutes(5);

    /// <summary>What is wrong with these settings, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (Webhook is { } url && (!url.IsAbsoluteUri || url.Scheme is not ("http" or "https")))
        {
            yield return "Webhook must be an http or https address.";
        }

        if (WebhookTokenFile is { } file && !File.Exists(file))
        {
            yield return $"WebhookTokenFile {file} does not exist.";
        }

        var longest = TimeSpan.FromDays(1);
        if (!(WebhookTimeout > TimeSpan.Zero && WebhookTimeout <= longest) || !(Every > TimeSpan.Zero && Every <= longest)
            || !(RetryFirst > TimeSpan.Zero) || !(RetryLongest >= RetryFirst && RetryLongest <= longest))
        {
            yield return "Times must be above zero and at most a day, and RetryLongest not below RetryFirst.";
        }
    }
}
