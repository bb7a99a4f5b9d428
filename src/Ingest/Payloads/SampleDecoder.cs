using System.Globalization;
using System.Text;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Store.Rejects;

namespace Vanehour.Ingest.Payloads;

/// <summary>
/// Turns a SenML payload of one truck into samples in canonical units, and everything that does not fit into rejects. Any bytes are
/// allowed. Holds buffers that are used again: one decoder to a thread.
/// </summary>
/// <param name="names">Which metric is which signal.</param>
/// <param name="limits">What a payload may be.</param>
public sealed class SampleDecoder(SignalNames names, DecodeLimits limits)
{
    private readonly Dictionary<long, int> slots = [];

    /// <summary>Decodes one payload.</summary>
    /// <param name="truck">The truck of the topic.</param>
    /// <param name="payload">SenML JSON.</param>
    /// <param name="arrivedMs">When it arrived, Unix ms.</param>
    /// <param name="samples">Gets the samples, one for each instant, in the order in which the pack first names it.</param>
    /// <param name="rejects">Gets the rejects; opened for the message by the caller.</param>
    public DecodeTally Decode(string truck, ReadOnlySpan<byte> payload, long arrivedMs, List<Sample> samples, RejectSheet rejects)
    {
        if (payload.Length > limits.MaxPayloadBytes)
        {
            return Refuse(rejects, RejectReason.PayloadTooLarge, string.Create(
                CultureInfo.InvariantCulture, $"{payload.Length} bytes; at most {limits.MaxPayloadBytes} are taken"));
        }

        var before = samples.Count;
        var baseOnly = 0;
        var leftOut = 0;
        var arrivalS = arrivedMs / 1000m;
        var latestS = arrivalS + (limits.MaxAhead.Ticks / (decimal)TimeSpan.TicksPerSecond);
        var target = new PackSamples(samples, slots, truck);
        slots.Clear();
        var reader = new SenMLReader(payload, arrivalS, limits.MaxRecords);
        while (true)
        {
            switch (reader.Read())
            {
                case SenMLStep.Record:
                    if (!Take(ref reader, ref target, latestS, rejects))
                    {
                        leftOut++;
                    }

                    break;
                case SenMLStep.BaseOnly:
                    baseOnly++;
                    break;
                case SenMLStep.BadRecord:
                    rejects.Add(reader.Fault);
                    break;
                case SenMLStep.BadPack:
                    samples.RemoveRange(before, samples.Count - before);
                    rejects.Restart();
                    rejects.Add(reader.Fault);
                    return new DecodeTally(0, reader.Index + 1, 0, 0, rejects.Close());
                default:
                    return new DecodeTally(samples.Count - before, reader.Index + 1, baseOnly, leftOut, rejects.Close());
            }
        }
    }

    /// <summary>Refuses a message as a whole.</summary>
    internal static DecodeTally Refuse(RejectSheet rejects, RejectReason reason, string message)
    {
        rejects.Add(new SenMLFault(-1, reason, "", message));
        return new DecodeTally(0, 0, 0, 0, rejects.Close());
    }

    // False where the settings leave the metric out.
    private bool Take(ref SenMLReader reader, ref PackSamples target, decimal latestS, RejectSheet rejects)
    {
        switch (names.Match(reader.Name, target.Truck, out var signal))
        {
            case NameMatch.LeftOut:
                return false;
            case NameMatch.OtherTruck:
                Add(RejectReason.TruckMismatch, ref reader, "n", $"{SenMLReader.Quote(reader.Name)} is of another truck than the topic's {target.Truck}");
                return true;
            case NameMatch.Unknown:
                Add(RejectReason.UnknownSignal, ref reader, "n", $"{SenMLReader.Quote(reader.Name)} is not a signal we map");
                return true;
            default:
                break;
        }

        if (reader.TimeIsRelative && !limits.AdmitRelativeTime)
        {
            Add(RejectReason.RelativeTime, ref reader, "t", "has no absolute time");
        }
        else if (reader.TimeS < SampleTime.EarliestS)
        {
            Add(RejectReason.TooOld, ref reader, "t", string.Create(CultureInfo.InvariantCulture, $"{reader.TimeS} s is before the year 2000"));
        }
        else if (reader.TimeS > latestS)
        {
            Add(RejectReason.InFuture, ref reader, "t", string.Create(
                CultureInfo.InvariantCulture, $"{reader.TimeS} s is more than {limits.MaxAhead} ahead of the arrival"));
        }
        else if (Value(ref reader, signal!, rejects) is { } value)
        {
            target.Set(SampleTime.ToUnixMs(reader.TimeS), signal!.Signal, value);
        }

        return true;

        void Add(RejectReason reason, ref SenMLReader at, string field, string message) =>
            rejects.Add(new SenMLFault(at.Index, reason, field, message));
    }

    // The value in the signal's canonical unit, or null with the reject added.
    private static double? Value(ref SenMLReader reader, SignalInfo signal, RejectSheet rejects)
    {
        if (signal.Unit.Dimension == Dimension.Flag)
        {
            return Flag(ref reader, signal, rejects);
        }

        if (reader.Kind != SenMLValueKind.Number)
        {
            return No(ref reader, RejectReason.InvalidRecord, "v", $"{signal.Name} needs a number (v)", rejects);
        }

        if (!reader.HasUnit)
        {
            return No(ref reader, RejectReason.MissingUnit, "u", $"{signal.Name} needs a unit", rejects);
        }

        if (FeedUnits.Find(reader.Unit) is not { } unit || unit.Dimension != signal.Unit.Dimension)
        {
            return No(ref reader, RejectReason.WrongUnit, "u", WrongUnit(reader.Unit, signal), rejects);
        }

        var value = unit.ConvertTo(signal.Unit, reader.Number);
        if (signal.Admits(value))
        {
            return value;
        }

        return double.IsFinite(value)
            ? No(ref reader, RejectReason.OutOfRange, "v", Outside(value, signal), rejects)
            : No(ref reader, RejectReason.NotFinite, "v", "is too large for a number in the canonical unit", rejects);
    }

    private static double? Flag(ref SenMLReader reader, SignalInfo signal, RejectSheet rejects)
    {
        if (reader.Kind == SenMLValueKind.Flag)
        {
            return reader.Flag ? 1 : 0;
        }

        if (reader.Kind != SenMLValueKind.Number)
        {
            return No(ref reader, RejectReason.InvalidRecord, "v", $"{signal.Name} needs true or false (vb), or 0 or 1 (v)", rejects);
        }

        // RFC 8428 section 12.1, note 2: "/" is the unit of a switch; "%" is its discouraged twin, and count is as good.
        if (reader.HasUnit && !(reader.Unit.SequenceEqual("/"u8) || reader.Unit.SequenceEqual("%"u8) || reader.Unit.SequenceEqual("count"u8)))
        {
            return No(ref reader, RejectReason.WrongUnit, "u", WrongUnit(reader.Unit, signal), rejects);
        }

        return signal.Admits(reader.Number) ? reader.Number : No(ref reader, RejectReason.OutOfRange, "v", Outside(reader.Number, signal), rejects);
    }

    private static string WrongUnit(ReadOnlySpan<byte> unit, SignalInfo signal)
    {
        var known = SenMLUnits.Find(Encoding.UTF8.GetString(unit));
        var what = known is null ? "" : $" ({known.Description})";
        return $"{SenMLReader.Quote(unit)}{what} is no unit for {signal.Name}, which is held in {signal.Unit.Symbol}";
    }

    private static string Outside(double value, SignalInfo signal) => string.Create(
        CultureInfo.InvariantCulture,
        $"{value:G6} {signal.Unit.Symbol} is outside {signal.Name}'s range of {signal.Lowest} to {signal.Highest}");

    private static double? No(ref SenMLReader reader, RejectReason reason, string field, string message, RejectSheet rejects)
    {
        rejects.Add(new SenMLFault(reader.Index, reason, field, message));
        return null;
    }
}
