namespace Vanehour.Store.Rejects;

/// <summary>Why a message or record was not stored. The names appear unchanged in logs, metric tags, tables and JSON.</summary>
public enum RejectReason
{
    /// <summary>The payload is not a JSON array of SenML records, or not UTF-8.</summary>
    MalformedPayload,

    /// <summary>The payload is over the size limit.</summary>
    PayloadTooLarge,

    /// <summary>The pack has more records than allowed.</summary>
    TooManyRecords,

    /// <summary>The pack's version is one we do not know.</summary>
    UnsupportedVersion,

    /// <summary>A label ends in '_' (must be understood) and is not known.</summary>
    UnknownMandatoryLabel,

    /// <summary>The record breaks a SenML rule: a field has the wrong type, appears twice, or there is not exactly one value.</summary>
    InvalidRecord,

    /// <summary>The topic names no valid truck.</summary>
    UnknownTopic,

    /// <summary>The resolved name is of another truck than the topic's.</summary>
    TruckMismatch,

    /// <summary>The signal's name is not one we map.</summary>
    UnknownSignal,

    /// <summary>The signal needs a unit and there is none.</summary>
    MissingUnit,

    /// <summary>The unit does not fit the signal.</summary>
    WrongUnit,

    /// <summary>The value is NaN, infinite or no number.</summary>
    NotFinite,

    /// <summary>The value is outside the sensor's physical range.</summary>
    OutOfRange,

    /// <summary>The pack has no absolute time.</summary>
    RelativeTime,

    /// <summary>The instant is before 2000.</summary>
    TooOld,

    /// <summary>The instant is more than the allowed time ahead of the clock.</summary>
    InFuture,

    /// <summary>The truck sends more than its share.</summary>
    RateLimited,

    /// <summary>More trucks have been heard than the store admits.</summary>
    TooManyTrucks,

    /// <summary>The server that keeps the samples will not have the sample; the detail is what it said.</summary>
    StoreRefused,
}
