using System.Buffers;
using System.Numerics;
using System.Text;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Payloads;

/// <content>Putting base fields and a record's own together ([RFC8428] section 4.6).</content>
public ref partial struct SenMLReader
{
    // [RFC8428] section 4.5.1.
    private static readonly SearchValues<byte> NameBytes =
        SearchValues.Create("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-:./_"u8);

    private static readonly SearchValues<byte> DataBytes =
        SearchValues.Create("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"u8);

    /// <summary>Whether there is a unit; an empty one counts as none.</summary>
    public readonly bool HasUnit => !Unit.IsEmpty;

    /// <summary>The boolean. Of use when <see cref="Kind"/> is Flag.</summary>
    public readonly bool Flag => flag;

    /// <summary>The string or the base64url data, UTF-8. Of use when <see cref="Kind"/> is Text or Data.</summary>
    public readonly ReadOnlySpan<byte> Text => text;

    /// <summary>Seconds within which an update can be expected, or null.</summary>
    public readonly decimal? UpdateTimeS => (seen & SenMLLabels.UpdateTime) != 0 ? updateTimeS : null;

    /// <summary>A piece of foreign text for a message: at most 64 characters, nothing that a terminal obeys.</summary>
    internal static string Quote(ReadOnlySpan<byte> utf8)
    {
        const int Longest = 64;
        var whole = Encoding.UTF8.GetString(utf8.Length > 4 * Longest ? utf8[..(4 * Longest)] : utf8);
        var shown = whole.Length > Longest ? whole[..Longest] : whole;
        return string.Concat("'", string.Create(shown.Length, shown, static (to, from) =>
        {
            for (var i = 0; i < to.Length; i++)
            {
                to[i] = char.IsControl(from[i]) || char.IsSurrogate(from[i]) ? '?' : from[i];
            }
        }), "'");
    }

    private static bool IsNotFiniteWord(ReadOnlySpan<byte> word)
    {
        if (word.Length > 0 && word[0] is (byte)'-' or (byte)'+')
        {
            word = word[1..];
        }

        return Ascii.EqualsIgnoreCase(word, "nan"u8) || Ascii.EqualsIgnoreCase(word, "inf"u8) || Ascii.EqualsIgnoreCase(word, "infinity"u8);
    }

    private SenMLStep Resolve()
    {
        if (failed)
        {
            return SenMLStep.BadRecord;
        }

        if (seen != SenMLLabels.None && (seen & ~SenMLLabels.AnyBase) == 0)
        {
            return SenMLStep.BaseOnly;
        }

        return ResolveValue() && ResolveName() && ResolveTime() && ResolveUnit() ? SenMLStep.Record : SenMLStep.BadRecord;
    }

    private bool ResolveValue()
    {
        var own = seen & SenMLLabels.AnyValue;
        if (BitOperations.PopCount((uint)own) > 1)
        {
            return Broken("v", "has more than one of v, vs, vb, vd");
        }

        Sum = null;
        if ((seen & SenMLLabels.Sum) != 0 || baseSum is not null)
        {
            Sum = (baseSum ?? 0) + ((seen & SenMLLabels.Sum) != 0 ? ownSum : 0);
            if (Inherits(SenMLLabels.BaseSum))
            {
                return false;
            }
        }

        switch (own)
        {
            case SenMLLabels.StringValue:
                Kind = SenMLValueKind.Text;
                break;
            case SenMLLabels.BooleanValue:
                Kind = SenMLValueKind.Flag;
                break;
            case SenMLLabels.DataValue:
                Kind = SenMLValueKind.Data;
                if (text.Length % 4 == 1 || text.ContainsAnyExcept(DataBytes))
                {
                    return Broken("vd", "is not base64url without padding");
                }

                break;

            // [RFC8428] section 4.5.4: of base value and value a missing one counts as 0, so a base value alone is a value.
            case SenMLLabels.Value:
            case SenMLLabels.None when seen != SenMLLabels.None && baseValue is not null:
                Kind = SenMLValueKind.Number;
                Number = own == SenMLLabels.None ? baseValue.GetValueOrDefault() : ownValue + baseValue.GetValueOrDefault();
                if (Inherits(SenMLLabels.BaseValue))
                {
                    return false;
                }

                break;
            default:
                Kind = SenMLValueKind.None;
                if (Sum is null || seen == SenMLLabels.None)
                {
                    return Broken("v", "has none of v, vs, vb, vd, s");
                }

                break;
        }

        if ((Kind == SenMLValueKind.Number && !double.IsFinite(Number)) || (Sum is { } sum && !double.IsFinite(sum)))
        {
            Fail(RejectReason.NotFinite, Kind == SenMLValueKind.Number ? "v" : "s", "is too large for a number with its base added");
            return false;
        }

        return true;
    }

    private bool ResolveName()
    {
        if (Inherits(SenMLLabels.BaseName))
        {
            return false;
        }

        if (baseName.IsEmpty)
        {
            Name = localName;
        }
        else if (localName.IsEmpty)
        {
            Name = baseName;
        }
        else
        {
            var length = baseName.Length + localName.Length;
            if (nameBuffer is null || nameBuffer.Length < length)
            {
                nameBuffer = new byte[Math.Max(128, length)];
            }

            baseName.CopyTo(nameBuffer);
            localName.CopyTo(nameBuffer.AsSpan(baseName.Length));
            Name = nameBuffer.AsSpan(0, length);
        }

        if (Name.IsEmpty)
        {
            return Broken("n", "is missing, and there is no base name");
        }

        if (Name.ContainsAnyExcept(NameBytes) || !char.IsAsciiLetterOrDigit((char)Name[0]))
        {
            return Broken("n", $"{Quote(Name)} is not a SenML name");
        }

        return true;
    }

    private bool ResolveTime()
    {
        if (Inherits(SenMLLabels.BaseTime))
        {
            return false;
        }

        var sum = baseTimeS + ownTimeS;
        TimeIsRelative = sum < FirstAbsoluteTimeS;
        TimeS = TimeIsRelative ? arrivalS + sum : sum;
        return true;
    }

    private bool ResolveUnit()
    {
        if ((seen & SenMLLabels.Unit) != 0)
        {
            Unit = ownUnit;
            return true;
        }

        // A boolean, a string or data has no unit to spoil.
        if (Kind is SenMLValueKind.Number or SenMLValueKind.None && Inherits(SenMLLabels.BaseUnit))
        {
            return false;
        }

        Unit = baseUnit;
        return true;
    }

    // Whether the record would inherit a base field that could not be read; then it has failed.
    private bool Inherits(SenMLLabels label)
    {
        if ((spoiled & label) == 0)
        {
            return false;
        }

        Broken(NameOf(label), "was given by an earlier record and could not be read");
        return true;
    }

    private bool Broken(string field, string message)
    {
        Fail(RejectReason.InvalidRecord, field, message);
        return false;
    }
}
