namespace Vanehour.Ingest.Payloads;

/// <summary>Which value a resolved record carries.</summary>
public enum SenMLValueKind
{
    /// <summary>None: the record carries a sum alone.</summary>
    None,

    /// <summary>A number (<c>v</c>, with the base value added).</summary>
    Number,

    /// <summary>A string (<c>vs</c>).</summary>
    Text,

    /// <summary>A boolean (<c>vb</c>).</summary>
    Flag,

    /// <summary>Bytes as base64url without padding (<c>vd</c>).</summary>
    Data,
}
