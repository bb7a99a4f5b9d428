using Vanehour.Fleet;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Payloads;

namespace Vanehour.Ingest.Pipeline;

/// <summary>Messages that are stored together and acknowledged together, in the order of their arrival.</summary>
internal sealed class IngestBatch
{
    public List<FeedMessage> Messages { get; } = [];

    public List<Sample> Samples { get; } = [];

    public RejectSheet Rejects { get; } = new();

    public long BaseOnly { get; set; }

    public long LeftOut { get; set; }
}
