using System.Text.Json;
using System.Text.Unicode;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Payloads;

/// <summary>
/// Reads a SenML JSON pack record by record and resolves each ([RFC8428] sections 4 and 5), without a document tree and, for ordinary
/// packs, without allocating. It never throws: what is wrong is told by <see cref="Fault"/>.
/// </summary>
/// <remarks>
/// A base field that cannot be read spoils the records that would inherit it until it reappears; guessing with the older value could
/// put readings at a wrong time or on a wrong truck.
/// </remarks>
public ref partial struct SenMLReader
{
    /// <summary>How many records a pack may hold unless told otherwise.</summary>
    public const int DefaultMaxRecords = 10_000;

    /// <summary>The version this reader knows ([RFC8428] section 4.4).</summary>
    public const int KnownVersion = 10;

    // [RFC8428] section 4.5.3: below 2^28 a time is relative to now.
    private const decimal FirstAbsoluteTimeS = 268_435_456m;

    private readonly ReadOnlySpan<byte> payload;
    private readonly decimal arrivalS;
    private readonly int maxRecords;
    private Utf8JsonReader json;
    private bool started;
    private SenMLStep? ending;

    // The record at hand.
    private SenMLLabels seen;
    private bool failed;
    private HashSet<string>? unknownLabels;

    private ReadOnlySpan<byte> baseName;
    private ReadOnlySpan<byte> baseUnit;
    private decimal baseTimeS;
    private double? baseValue;
    private double? baseSum;

    // Base fields that could not be read: whoever would inherit one fails.
    private SenMLLabels spoiled;

    private ReadOnlySpan<byte> localName;
    private ReadOnlySpan<byte> ownUnit;
    private ReadOnlySpan<byte> text;
    private decimal ownTimeS;
    private double ownValue;
    private double ownSum;
    private decimal updateTimeS;
    private bool flag;
    private byte[]? nameBuffer;

    /// <summary>Starts reading a pack.</summary>
    /// <param name="payload">UTF-8 JSON; a byte order mark is passed over.</param>
    /// <param name="arrivalS">Unix seconds of arrival, taken once for the message; relative times refer to it.</param>
    /// <param name="maxRecords">More records than this refuse the pack.</param>
    public SenMLReader(ReadOnlySpan<byte> payload, decimal arrivalS, int maxRecords = DefaultMaxRecords)
    {
        this.payload = payload.StartsWith("\uFEFF"u8) ? payload[3..] : payload;
        this.arrivalS = arrivalS;
        this.maxRecords = maxRecords;
        json = new Utf8JsonReader(this.payload);
        Index = -1;
        Version = KnownVersion;
    }

    /// <summary>The index of the record at hand, from 0.</summary>
    public int Index { get; private set; }

    /// <summary>The version of the pack.</summary>
    public int Version { get; private set; }

    /// <summary>What is wrong; of use after <see cref="SenMLStep.BadRecord"/> and <see cref="SenMLStep.BadPack"/>.</summary>
    public SenMLFault Fault { get; private set; }

    /// <summary>The full name, UTF-8. Valid until the next <see cref="Read"/>.</summary>
    public ReadOnlySpan<byte> Name { get; private set; }

    /// <summary>The unit, UTF-8; empty where there is none.</summary>
    public ReadOnlySpan<byte> Unit { get; private set; }

    /// <summary>Unix seconds, absolute.</summary>
    public decimal TimeS { get; private set; }

    /// <summary>Whether the time was given relative to the arrival.</summary>
    public bool TimeIsRelative { get; private set; }

    /// <summary>Which value the record carries.</summary>
    public SenMLValueKind Kind { get; private set; }

    /// <summary>The number, base value added; finite. Of use when <see cref="Kind"/> is Number.</summary>
    public double Number { get; private set; }

    /// <summary>The integral over time, base sum added; finite, or null.</summary>
    public double? Sum { get; private set; }

    /// <summary>Goes to the next record. After the end, or after the pack was refused, it says so again.</summary>
    public SenMLStep Read()
    {
        if (ending is { } end)
        {
            return end;
        }

        SenMLStep step;
        try
        {
            step = Next();
        }
        catch (JsonException e)
        {
            step = Refuse(RejectReason.MalformedPayload, $"not valid JSON at line {e.LineNumber + 1}, byte {e.BytePositionInLine + 1}");
        }

        if (step is SenMLStep.BadPack or SenMLStep.End)
        {
            ending = step;
        }

        return step;
    }

    private SenMLStep Next()
    {
        if (!started)
        {
            started = true;
            if (payload.IsEmpty)
            {
                return Refuse(RejectReason.MalformedPayload, "the payload is empty");
            }

            if (!Utf8.IsValid(payload))
            {
                return Refuse(RejectReason.MalformedPayload, "the payload is not UTF-8");
            }

            json.Read();
            if (json.TokenType != JsonTokenType.StartArray)
            {
                return Refuse(RejectReason.MalformedPayload, "the payload is not a JSON array");
            }
        }

        json.Read();
        if (json.TokenType == JsonTokenType.EndArray)
        {
            // Anything but white space behind the array throws here.
            json.Read();
            return Index < 0 ? Refuse(RejectReason.MalformedPayload, "the pack has no records") : SenMLStep.End;
        }

        Index++;
        if (Index >= maxRecords)
        {
            return Refuse(RejectReason.TooManyRecords, $"more than {maxRecords} records");
        }

        StartRecord();
        if (json.TokenType != JsonTokenType.StartObject)
        {
            json.Skip();
            Fail(RejectReason.InvalidRecord, "", "is not a JSON object");
            return SenMLStep.BadRecord;
        }

        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            if (!ReadField())
            {
                return SenMLStep.BadPack;
            }
        }

        return Resolve();
    }

    private SenMLStep Refuse(RejectReason reason, string message, string field = "")
    {
        Fault = new SenMLFault(-1, reason, field, message);
        return SenMLStep.BadPack;
    }

    // The first fault of a record is the one that is kept.
    private void Fail(RejectReason reason, string field, string message)
    {
        if (!failed)
        {
            failed = true;
            Fault = new SenMLFault(Index, reason, field, message);
        }
    }
}
