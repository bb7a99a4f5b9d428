namespace Vanehour.Host.Notices;

/// <summary>What was last told of one key.</summary>
/// <param name="Id">The finding.</param>
/// <param name="Mark">What it looked like, as a digest; when this differs there is something to tell.</param>
public sealed record PublishedNotice(string Id, string Mark);
