using Vanehour.Ingest.Feed;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Notices;

/// <summary>Keeps each open finding as a retained message at the broker, and clears it when the finding closes.</summary>
/// <param name="publisher">The connection.</param>
public sealed class MqttChannel(RetainedPublisher publisher) : INoticeChannel
{
    /// <inheritdoc/>
    public string Name => "mqtt";

    /// <summary>The topic: <c>fleet/{truck}/finding/{kind}</c>, or <c>fleet/finding/{kind}</c> for a finding about the installation, which no truck's id can be taken for.</summary>
    public string KeyOf(Finding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return finding.Truck is { } truck ? $"fleet/{truck}/finding/{finding.Kind}" : $"fleet/finding/{finding.Kind}";
    }

    /// <summary>All of it: what is retained is what the finding says now.</summary>
    public string ContentOf(Finding finding) => NoticeJson.Of(finding);

    /// <inheritdoc/>
    public async Task SendAsync(Notice notice, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(notice);
        try
        {
            await publisher.PublishAsync(notice.Key, notice.Event == NoticeEvent.Closed || notice.Finding is null ? string.Empty : NoticeJson.Of(notice.Finding), cancellationToken);
        }
        catch (BrokerException e)
        {
            throw new NoticeFailedException(e.Message, e);
        }
    }
}
