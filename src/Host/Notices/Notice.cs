using Vanehour.Models.Findings;

namespace Vanehour.Host.Notices;

/// <summary>One thing to tell.</summary>
/// <param name="Event">What became of it.</param>
/// <param name="Key">What the channel knows it by.</param>
/// <param name="Finding">The finding as it is now; null for a closing whose finding is no longer known, as after an older backup was put back.</param>
public sealed record Notice(NoticeEvent Event, string Key, Finding? Finding);
