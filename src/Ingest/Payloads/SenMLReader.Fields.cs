using System.Text;
using System.Text.Json;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Payloads;

/// <content>Reading the fields of one record.</content>
public ref partial struct SenMLReader
{
    // Far beyond any calendar, and small enough that sums and milliseconds stay exact.
    private const decimal LargestTimeS = 1_000_000_000_000_000m;

    private static SenMLLabels Find(ReadOnlySpan<byte> label)
    {
        switch (label.Length)
        {
            case 1:
                return label[0] switch
                {
                    (byte)'n' => SenMLLabels.Name,
                    (byte)'u' => SenMLLabels.Unit,
                    (byte)'v' => SenMLLabels.Value,
                    (byte)'t' => SenMLLabels.Time,
                    (byte)'s' => SenMLLabels.Sum,
                    _ => SenMLLabels.None,
                };
            case 2:
                return (label[0], label[1]) switch
                {
                    ((byte)'b', (byte)'n') => SenMLLabels.BaseName,
                    ((byte)'b', (byte)'t') => SenMLLabels.BaseTime,
                    ((byte)'b', (byte)'u') => SenMLLabels.BaseUnit,
                    ((byte)'b', (byte)'v') => SenMLLabels.BaseValue,
                    ((byte)'b', (byte)'s') => SenMLLabels.BaseSum,
                    ((byte)'v', (byte)'s') => SenMLLabels.StringValue,
                    ((byte)'v', (byte)'b') => SenMLLabels.BooleanValue,
                    ((byte)'v', (byte)'d') => SenMLLabels.DataValue,
                    ((byte)'u', (byte)'t') => SenMLLabels.UpdateTime,
                    _ => SenMLLabels.None,
                };
            case 4:
                return label.SequenceEqual("bver"u8) ? SenMLLabels.BaseVersion : SenMLLabels.None;
            default:
                return SenMLLabels.None;
        }
    }

    private static string NameOf(SenMLLabels label) => label switch
    {
        SenMLLabels.BaseName => "bn",
        SenMLLabels.BaseTime => "bt",
        SenMLLabels.BaseUnit => "bu",
        SenMLLabels.BaseValue => "bv",
        SenMLLabels.BaseSum => "bs",
        SenMLLabels.BaseVersion => "bver",
        SenMLLabels.Name => "n",
        SenMLLabels.Unit => "u",
        SenMLLabels.Value => "v",
        SenMLLabels.StringValue => "vs",
        SenMLLabels.BooleanValue => "vb",
        SenMLLabels.DataValue => "vd",
        SenMLLabels.Sum => "s",
        SenMLLabels.Time => "t",
        _ => "ut",
    };

    private void StartRecord()
    {
        seen = SenMLLabels.None;
        failed = false;
        localName = default;
        ownUnit = default;
        text = default;
        ownTimeS = 0;
        unknownLabels?.Clear();
    }

    /// <summary>Reads the field whose label is at hand. False when it refuses the pack.</summary>
    private bool ReadField()
    {
        ReadOnlySpan<byte> name = json.ValueSpan;
        if (json.ValueIsEscaped && !TryUnescape(out name))
        {
            Fail(RejectReason.InvalidRecord, "", "a label holds an invalid escape");
            json.Read();
            json.Skip();
            return true;
        }

        var label = Find(name);
        if (label == SenMLLabels.None)
        {
            return ReadUnknown(name);
        }

        json.Read();
        if ((seen & label) != 0)
        {
            FailField(label, "appears twice");
            json.Skip();
            return true;
        }

        seen |= label;
        return label == SenMLLabels.BaseVersion ? ReadVersion() : ReadKnown(label);
    }

    private bool ReadKnown(SenMLLabels label)
    {
        switch (label)
        {
            case SenMLLabels.BaseName:
                ReadString(label, ref baseName);
                break;
            case SenMLLabels.BaseUnit:
                ReadString(label, ref baseUnit);
                break;
            case SenMLLabels.Name:
                ReadString(label, ref localName);
                break;
            case SenMLLabels.Unit:
                ReadString(label, ref ownUnit);
                break;
            case SenMLLabels.StringValue:
            case SenMLLabels.DataValue:
                ReadString(label, ref text);
                break;
            case SenMLLabels.BaseTime:
                ReadTime(label, ref baseTimeS);
                break;
            case SenMLLabels.Time:
                ReadTime(label, ref ownTimeS);
                break;
            case SenMLLabels.UpdateTime:
                ReadTime(label, ref updateTimeS);
                break;
            case SenMLLabels.BaseValue:
                baseValue = ReadNumber(label);
                break;
            case SenMLLabels.BaseSum:
                baseSum = ReadNumber(label);
                break;
            case SenMLLabels.Value:
                ownValue = ReadNumber(label);
                break;
            case SenMLLabels.Sum:
                ownSum = ReadNumber(label);
                break;
            default:
                ReadFlag();
                break;
        }

        return true;
    }

    private bool ReadVersion()
    {
        if (json.TokenType != JsonTokenType.Number || !json.TryGetInt32(out var version) || version < 1)
        {
            Refuse(RejectReason.UnsupportedVersion, $"record {Index} gives no version number", "bver");
            return false;
        }

        if (version > KnownVersion)
        {
            Refuse(RejectReason.UnsupportedVersion, $"record {Index} asks for version {version}; {KnownVersion} is the latest known", "bver");
            return false;
        }

        // [RFC8428] section 4.4: all records of a pack have one version.
        if (Index > 0 && version != Version)
        {
            Refuse(RejectReason.UnsupportedVersion, $"record {Index} changes the version from {Version} to {version}", "bver");
            return false;
        }

        Version = version;
        spoiled &= ~SenMLLabels.BaseVersion;
        return true;
    }

    private bool ReadUnknown(ReadOnlySpan<byte> name)
    {
        var mandatory = name.Length > 0 && name[^1] == (byte)'_';

        // Labels that begin with b are base fields, so one that must be understood would bear on all later records.
        if (mandatory && name[0] == (byte)'b')
        {
            Refuse(RejectReason.UnknownMandatoryLabel, $"record {Index} has a base field that must be understood and is not known", Quote(name));
            return false;
        }

        if (mandatory)
        {
            Fail(RejectReason.UnknownMandatoryLabel, Quote(name), "must be understood and is not known");
        }

        unknownLabels ??= new HashSet<string>(StringComparer.Ordinal);
        if (!unknownLabels.Add(Encoding.UTF8.GetString(name)))
        {
            Fail(RejectReason.InvalidRecord, Quote(name), "appears twice");
        }

        json.Read();
        json.Skip();
        return true;
    }

    private void ReadString(SenMLLabels label, ref ReadOnlySpan<byte> target)
    {
        if (json.TokenType != JsonTokenType.String)
        {
            FailField(label, "must be a string");
            json.Skip();
            return;
        }

        var value = json.ValueSpan;
        if (json.ValueIsEscaped && !TryUnescape(out value))
        {
            FailField(label, "holds an invalid escape");
            return;
        }

        target = value;
        spoiled &= ~label;
    }

    private void ReadTime(SenMLLabels label, ref decimal targetS)
    {
        if (json.TokenType != JsonTokenType.Number)
        {
            FailField(label, "must be a number");
            json.Skip();
            return;
        }

        decimal value;
        if (json.TryGetInt64(out var whole))
        {
            value = whole;
        }
        else if (!json.TryGetDecimal(out value))
        {
            FailField(label, "is too large for a time");
            return;
        }

        if (value is > LargestTimeS or < -LargestTimeS)
        {
            FailField(label, "is too large for a time");
            return;
        }

        targetS = value;
        spoiled &= ~label;
    }

    private double ReadNumber(SenMLLabels label)
    {
        if (json.TokenType == JsonTokenType.Number && json.TryGetDouble(out var value))
        {
            if (double.IsFinite(value))
            {
                spoiled &= ~label;
                return value;
            }

            FailField(label, "is too large for a number", RejectReason.NotFinite);
            return 0;
        }

        // Gateways without a reading send null, or the words, in place of a number.
        var words = json.TokenType == JsonTokenType.Null
            || (json.TokenType == JsonTokenType.String && !json.ValueIsEscaped && IsNotFiniteWord(json.ValueSpan));
        if (words)
        {
            FailField(label, "is not a number", RejectReason.NotFinite);
        }
        else
        {
            FailField(label, "must be a number");
        }

        json.Skip();
        return 0;
    }

    private void ReadFlag()
    {
        if (json.TokenType is JsonTokenType.True or JsonTokenType.False)
        {
            flag = json.TokenType == JsonTokenType.True;
            return;
        }

        FailField(SenMLLabels.BooleanValue, "must be true or false");
        json.Skip();
    }

    private void FailField(SenMLLabels label, string message, RejectReason reason = RejectReason.InvalidRecord)
    {
        spoiled |= label & SenMLLabels.AnyBase;
        Fail(reason, NameOf(label), message);
    }

    private readonly bool TryUnescape(out ReadOnlySpan<byte> value)
    {
        try
        {
            var buffer = new byte[json.ValueSpan.Length];
            value = buffer.AsSpan(0, json.CopyString(buffer));
            return true;
        }
        catch (InvalidOperationException)
        {
            // A lone surrogate; JSON allows it, UTF-8 does not.
            value = default;
            return false;
        }
    }
}
