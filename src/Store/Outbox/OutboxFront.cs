using Vanehour.Fleet;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Outbox;

/// <summary>The rows at the front of the outbox.</summary>
/// <param name="LastSeq">The number of the last of them.</param>
/// <param name="Samples">The samples, in the order of arrival.</param>
/// <param name="Changes">What was found out about their points before they were sent; null where they were not sent yet.</param>
internal sealed record OutboxFront(long LastSeq, IReadOnlyList<Sample> Samples, SampleChange[]? Changes);
