using System.Text.Json;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Fleet.Sqlite;
using Vanehour.Host.Settings;
using Vanehour.Models.Findings;
using Vanehour.Store;

namespace Vanehour.Host.Notices;

//   analysis (its own process), LimitWatch, findings close --> FindingBook --every few seconds--> NoticeDifference --Notice--> INoticeChannel (MQTT, webhook)
//                                                              NoticeFile (what was told) --------^                      |
//                                                                   ^--------------------- noted once told -------------+

/// <summary>Tells one channel of findings that open, change and close. It waits for nobody else, and nobody waits for it.</summary>
/// <param name="book">The findings.</param>
/// <param name="file">What was told.</param>
/// <param name="channel">The channel.</param>
/// <param name="settings">How often, and how long to wait after a failure.</param>
/// <param name="time">The clock.</param>
/// <param name="logger">Where failures are said, once.</param>
public sealed partial class NoticeService(
    FindingBook book, NoticeFile file, INoticeChannel channel, NoticeSettings settings, TimeProvider time, ILogger<NoticeService> logger) : BackgroundService
{
    private bool isFailing;

    /// <summary>Tells what is due now.</summary>
    /// <returns>Whether all of it was told; else the rest is due still.</returns>
    public async Task<bool> TellAsync(CancellationToken cancellationToken)
    {
        try
        {
            foreach (var notice in NoticeDifference.Of(book.All(), file.Published, channel))
            {
                await channel.SendAsync(notice, cancellationToken);
                file.Note(notice.Key, notice is { Event: not NoticeEvent.Closed, Finding: { } told } ? new PublishedNotice(told.Id, NoticeDifference.MarkOf(told, channel)) : null);
            }
        }
        catch (Exception e) when (e is NoticeFailedException or StoreUnavailableException or DatabaseException or IOException or UnauthorizedAccessException
            or JsonException)
        {
            if (!isFailing)
            {
                Failing(logger, channel.Name, e.Message);
            }

            isFailing = true;
            return false;
        }

        if (isFailing)
        {
            Again(logger, channel.Name);
        }

        isFailing = false;
        return true;
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var wait = settings.RetryFirst;
        while (!stoppingToken.IsCancellationRequested)
        {
            var isTold = await TellAsync(stoppingToken);
            await Task.Delay(isTold ? settings.Every : wait, time, stoppingToken);
            wait = isTold ? settings.RetryFirst : TimeSpan.FromTicks(Math.Min(wait.Ticks * 2, settings.RetryLongest.Ticks));
        }
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "Findings cannot be told by {Channel} now, and are tried again: {Reason}")]
    private static partial void Failing(ILogger logger, string channel, string reason);

    [LoggerMessage(Level = LogLevel.Information, Message = "Findings are told by {Channel} again")]
    private static partial void Again(ILogger logger, string channel);
}
