using System.Text;
using Vanehour.Store.Rejects;

namespace Vanehour.Host.Output;

/// <summary>A refused message or record as listed.</summary>
/// <param name="Reason">Why it was refused.</param>
/// <param name="Topic">Where it came from.</param>
/// <param name="FirstArrived">When it arrived first.</param>
/// <param name="LastArrived">When it arrived last.</param>
/// <param name="Times">How often it arrived.</param>
/// <param name="Detail">Which record and field.</param>
/// <param name="Payload">The first 4 KiB as text; bytes that are not UTF-8 show as the replacement character.</param>
public sealed record RejectRow(
    RejectReason Reason, string Topic, DateTimeOffset FirstArrived, DateTimeOffset LastArrived, long Times, string Detail, string Payload)
{
    /// <summary>The row of a kept reject.</summary>
    public static RejectRow Of(StoredReject stored)
    {
        ArgumentNullException.ThrowIfNull(stored);
        return new RejectRow(
            stored.Reject.Reason,
            stored.Reject.Topic,
            DateTimeOffset.FromUnixTimeMilliseconds(stored.Reject.ArrivedMs),
            DateTimeOffset.FromUnixTimeMilliseconds(stored.LastArrivedMs),
            stored.Times,
            stored.Reject.Detail,
            Encoding.UTF8.GetString(stored.Reject.Payload.Span));
    }
}
