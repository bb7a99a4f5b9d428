using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.Extensions.Logging;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Notices;

/// <summary>Posts each notice as JSON to an address.</summary>
/// <param name="address">Where to.</param>
/// <param name="http">The client, with its time-out set.</param>
/// <param name="tokenFile">File whose first line is the bearer token, read at each post so that a renewed one counts; null for none.</param>
/// <param name="logger">Where it is said what a receiver will never take.</param>
public sealed partial class WebhookChannel(Uri address, HttpClient http, string? tokenFile, ILogger<WebhookChannel> logger) : INoticeChannel
{
    /// <inheritdoc/>
    public string Name => "webhook";

    /// <inheritdoc/>
    public string KeyOf(Finding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return finding.Id;
    }

    /// <summary>What a person would want to be woken for: not that a mean moved in its third digit with the latest run.</summary>
    public string ContentOf(Finding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        var seen = finding.Watched is { } watched ? string.Create(CultureInfo.InvariantCulture, $"{watched.From.ToUnixTimeMilliseconds()}-{watched.LastSeen.ToUnixTimeMilliseconds()}") : string.Empty;
        return string.Join(
            '\n',
            [
                finding.Id, finding.Urgency.ToString(), finding.Status.ToString(), finding.AcknowledgedBy, finding.Note, seen,
                .. finding.Causes.Take(3).Select(c => c.Cause.ToString()),
                .. finding.Evidence.Select(e => e.Indicator),
            ]);
    }

    /// <inheritdoc/>
    public async Task SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(notice);
        if (notice.Finding is not { } finding)
        {
            return;
        }

        using var request = new HttpRequestMessage(HttpMethod.Post, address) { Content = new StringContent(NoticeJson.Of(notice), Encoding.UTF8, "application/json") };
        HttpStatusCode status;
        try
        {
            if (tokenFile is not null)
            {
                using var reader = File.OpenText(tokenFile);
                request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", await reader.ReadLineAsync(cancellationToken));
            }

            using var answer = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellationToken);
            status = answer.StatusCode;
        }
        catch (Exception e) when (e is HttpRequestException or IOException or UnauthorizedAccessException or FormatException
            || (e is OperationCanceledException && !cancellationToken.IsCancellationRequested))
        {
            throw new NoticeFailedException(e is OperationCanceledException ? $"{address.Host} does not answer in time" : e.Message, e);
        }

        // The same again would be refused again, and what comes after it must not wait for it.
        if (status is HttpStatusCode.BadRequest or HttpStatusCode.RequestEntityTooLarge or HttpStatusCode.UnprocessableEntity)
        {
            Refused(logger, address.Host, finding.Id, (int)status);
        }
        else if ((int)status is < 200 or > 299)
        {
            throw new NoticeFailedException(string.Create(CultureInfo.InvariantCulture, $"{address.Host} answers {(int)status}"));
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The webhook at {Host} refuses finding {Id} (HTTP {Status}); it is not posted again until it changes")]
    private static partial void Refused(ILogger logger, string host, string id, int status);
}
