using System.Globalization;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Payloads;

/// <summary>Why a record, or a whole pack, is refused.</summary>
/// <param name="Record">The record's index in the pack from 0, or -1 where the fault is the pack's.</param>
/// <param name="Reason">The reason.</param>
/// <param name="Field">The label of the field at fault; empty where there is none.</param>
/// <param name="Message">What is wrong with it, in words.</param>
public readonly record struct SenMLFault(int Record, RejectReason Reason, string Field, string Message)
{
    /// <summary>The fault in words, with record and field named.</summary>
    public override string ToString()
    {
        var place = Record < 0 ? "pack" : string.Create(CultureInfo.InvariantCulture, $"record {Record}");
        return Field.Length == 0 ? $"{place}: {Message}" : $"{place}, {Field}: {Message}";
    }
}
