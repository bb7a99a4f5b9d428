namespace Vanehour.Host.Notices;

/// <summary>What became of a finding; the names in lower case are those that receivers read.</summary>
public enum NoticeEvent
{
    Opened,
    Changed,
    Closed,
}
