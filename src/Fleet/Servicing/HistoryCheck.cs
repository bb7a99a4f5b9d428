using System.Globalization;
using Vanehour.Fleet.Lives;

namespace Vanehour.Fleet.Servicing;

/// <summary>
/// Finds what in the service records of trucks cannot all be true. What was contradictory before a change must not keep people from changing it, so that a
/// change is judged by what it adds: see <see cref="Added"/>.
/// </summary>
internal sealed class HistoryCheck
{
    // What a meter reading taken by hand may be off by; of our own, as where lives are read.
    private const double MeterToleranceH = 1;

    // Clocks of two machines differ; of our own.
    private static readonly TimeSpan FutureTolerance = TimeSpan.FromMinutes(10);

    // Shops write work up some days later under the later day; of our own. Files hold such rows, and nobody is there to ask.
    private static readonly TimeSpan WrittenUpWithin = TimeSpan.FromDays(7);

    private readonly IReadOnlyList<Truck> trucks;
    private readonly DateTimeOffset now;
    private readonly bool isFile;

    /// <param name="trucks">Every registered truck.</param>
    /// <param name="now">The present.</param>
    /// <param name="isFile">Whether records come in a file: past lives from before the registered fitting and work written up late are taken then.</param>
    public HistoryCheck(IReadOnlyList<Truck> trucks, DateTimeOffset now, bool isFile)
    {
        this.trucks = trucks;
        this.now = now;
        this.isFile = isFile;
    }

    /// <summary>What is contradictory after a change and was not before.</summary>
    public IReadOnlyList<Contradiction> Added(IReadOnlyCollection<HeldRecord> before, IReadOnlyCollection<HeldRecord> after)
    {
        var changed = before.Except(after).Concat(after.Except(before)).Select(h => h.Record.Truck).ToHashSet(StringComparer.Ordinal);
        var known = All(before, changed).Select(c => c.Identity).ToHashSet(StringComparer.Ordinal);
        return [.. All(after, changed).Where(c => !known.Contains(c.Identity))];
    }

    private IEnumerable<Contradiction> All(IReadOnlyCollection<HeldRecord> held, HashSet<string> changed)
    {
        var byTruck = held.ToLookup(h => h.Record.Truck, StringComparer.Ordinal);
        var own = trucks.Where(t => changed.Contains(t.Id)).SelectMany(t => OfTruck(t, [.. byTruck[t.Id]]));
        return own.Concat(Overlaps(byTruck, changed));
    }

    private IEnumerable<Contradiction> OfTruck(Truck truck, HeldRecord[] held)
    {
        var line = new MeterLine(truck, held.Select(h => h.Record));
        return held.SelectMany(h => Dates(truck, h)).Concat(Meters(truck, held, line)).Concat(Strays(truck, held)).Concat(Twice(truck, held, line));
    }

    private IEnumerable<Contradiction> Dates(Truck truck, HeldRecord held)
    {
        var record = held.Record;
        if (record.At > now + FutureTolerance)
        {
            yield return Of("Future", truck, "date", $"{YardTime.Text(truck, record.At)} lies in the future; correct the date.", held);
        }

        if (!isFile && IsLife(record.Kind) && record.At < truck.PumpFitted)
        {
            yield return Of(
                "BeforeFitting",
                truck,
                "date",
                $"The pump of {truck.Id} was fitted on {YardTime.Text(truck, truck.PumpFitted)} by its registration, so a {ServiceKindInfo.Of(record.Kind).Name} on {YardTime.Text(truck, record.At)} says nothing of it; correct the date.",
                held);
        }
    }

    private IEnumerable<Contradiction> Meters(Truck truck, HeldRecord[] held, MeterLine line)
    {
        var readings = held.Select(h => Reading(h, line)).Append(Fitting(truck, line)).OrderBy(r => r.At).ThenBy(r => r.LowH).ToArray();
        for (var i = 0; i < readings.Length; i++)
        {
            for (var j = i + 1; j < readings.Length; j++)
            {
                var (a, b) = (readings[i], readings[j]);

                // The registered fitting says nothing of past lives.
                if (b.Held is null)
                {
                    continue;
                }

                if (a.Latest < b.Earliest && a.LowH > b.HighH + MeterToleranceH)
                {
                    yield return Between(
                        "MeterBack",
                        truck,
                        a,
                        b,
                        $"The meter of {truck.Id} would read {Hours(b.MeterH)} on {Named(truck, b)} after {Hours(a.MeterH)} on {Named(truck, a)}; correct the meter or the date, or record the replaced meter between them.");
                    continue;
                }

                var apartH = Math.Max((b.Latest - a.Earliest).TotalHours, (a.Latest - b.Earliest).TotalHours);
                var ranH = Math.Max(b.LowH - a.HighH, a.LowH - b.HighH);
                if (ranH > apartH + MeterToleranceH)
                {
                    yield return Between(
                        "TooManyHours",
                        truck,
                        a,
                        b,
                        $"{truck.Id} would have run {Hours(ranH)} between {Named(truck, a)} and {Named(truck, b)}, which are {Hours(apartH)} apart; correct the meter or the date, or record the replaced meter between them.");
                }
            }
        }
    }

    private MeterReading Reading(HeldRecord held, MeterLine line)
    {
        var record = held.Record;
        var latest = line.Latest(record.At);
        if (record is { Kind: ServiceKind.MeterReplaced, Value: not null })
        {
            var hours = line.Replaced(record);
            return new MeterReading(held, record.At, record.At, latest, record.MeterH, hours, hours);
        }

        var earliest = isFile && !IsLife(record.Kind) ? record.At - WrittenUpWithin : record.At;
        var (lowH, highH) = line.Range(earliest, latest, record.MeterH);
        return new MeterReading(held, record.At, earliest, latest, record.MeterH, lowH, highH);
    }

    private static MeterReading Fitting(Truck truck, MeterLine line)
    {
        var latest = line.Latest(truck.PumpFitted);
        var (lowH, highH) = line.Range(truck.PumpFitted, latest, truck.MeterAtFittingH);
        return new MeterReading(null, truck.PumpFitted, truck.PumpFitted, latest, truck.MeterAtFittingH, lowH, highH);
    }

    private static IEnumerable<Contradiction> Strays(Truck truck, HeldRecord[] held)
    {
        var lives = LifeHistory.Build(truck, held.Select(h => h.Record));
        return held
            .Where(h => h.Record.Kind is ServiceKind.Failure or ServiceKind.Removed && h.Record.At >= truck.PumpFitted)
            .Where(h => !lives.Any(l => h.Record.At >= l.FittedAt && !(h.Record.At > l.EndedAt)))
            .Select(h => Of(
                "NoPump",
                truck,
                "kind",
                $"A {Noun(h.Record.Kind)} on {Named(truck, h)} needs a pump on {truck.Id}, and none is on it then; record the pump put on (fitted) first, or correct the date.",
                h));
    }

    /// <summary>One and the same rebuild or failure written down twice.</summary>
    private static IEnumerable<Contradiction> Twice(Truck truck, HeldRecord[] held, MeterLine line)
    {
        var events = held.Where(h => IsLife(h.Record.Kind) && h.Record.At >= truck.PumpFitted).OrderBy(h => h.Record.At).ThenBy(h => h.Record.MeterH).ToArray();
        for (var i = 1; i < events.Length; i++)
        {
            var (a, b) = (events[i - 1], events[i]);
            if (a.Record.Kind != b.Record.Kind || a.Record.Kind is not (ServiceKind.Rebuild or ServiceKind.Failure))
            {
                continue;
            }

            var (fromH, _) = line.Range(a.Record.At, a.Record.At, a.Record.MeterH);
            var (_, toH) = line.Range(b.Record.At, b.Record.At, b.Record.MeterH);
            if (toH - fromH < MeterToleranceH)
            {
                yield return new Contradiction(
                    $"Twice {Pair(a.Token, b.Token)}",
                    truck.Id,
                    [a.Token, b.Token],
                    "meter_h",
                    $"{truck.Id} would have a {Noun(a.Record.Kind)} on {Named(truck, a)} and another on {Named(truck, b)} without a PTO hour between; edit the one that is there, or correct the meter.");
            }
        }
    }

    private IEnumerable<Contradiction> Overlaps(ILookup<string, HeldRecord> byTruck, HashSet<string> changed)
    {
        var lives = trucks.SelectMany(t => LifeHistory.Build(t, byTruck[t.Id].Select(h => h.Record)).Select(l => (Truck: t, Life: l)));
        foreach (var pump in lives.GroupBy(l => (l.Life.PumpSerial, l.Life.PumpModel)))
        {
            foreach (var (truck, life) in pump.Where(l => changed.Contains(l.Truck.Id)))
            {
                foreach (var (other, second) in pump.Where(o => o.Truck.Id != truck.Id && !(life.EndedAt <= o.Life.FittedAt) && !(o.Life.EndedAt <= life.FittedAt)))
                {
                    var from = life.FittedAt > second.FittedAt ? life.FittedAt : second.FittedAt;
                    yield return new Contradiction(
                        $"TwoTrucks {Pair(truck.Id, other.Id)} {life.PumpSerial} {life.PumpModel}",
                        truck.Id,
                        [.. byTruck[truck.Id].Where(h => IsLife(h.Record.Kind) && h.Record.At == from).Select(h => h.Token)],
                        "pump_serial",
                        $"Pump {life.PumpSerial} would be on {truck.Id} and on {other.Id} at the same time from {YardTime.Text(truck, from)} on; record its removal first, or correct the serial or the date.");
                }
            }
        }
    }

    private static bool IsLife(ServiceKind kind) => kind is ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Removed or ServiceKind.Fitted;

    private static string Noun(ServiceKind kind) => kind == ServiceKind.Removed ? "removal" : ServiceKindInfo.Of(kind).Name;

    private static string Hours(double hours) => string.Create(CultureInfo.InvariantCulture, $"{hours:0.##} h");

    private static string Named(Truck truck, HeldRecord held) => $"{YardTime.Text(truck, held.Record.At)} (record {ServiceId.Of(held.Record)})";

    private static string Named(Truck truck, MeterReading reading) =>
        reading.Held is { } held ? Named(truck, held) : $"{YardTime.Text(truck, reading.At)} (the registered fitting)";

    private static string Pair(string a, string b) => string.CompareOrdinal(a, b) < 0 ? $"{a} {b}" : $"{b} {a}";

    // With the instant: who edits the note of a record whose date is wrong must not be stopped, who makes the date wrong must.
    private static Contradiction Of(string kind, Truck truck, string column, string sentence, HeldRecord held) =>
        new($"{kind} {held.Token} {held.Record.At.ToUnixTimeMilliseconds()}", truck.Id, [held.Token], column, sentence);

    private static Contradiction Between(string kind, Truck truck, MeterReading a, MeterReading b, string sentence)
    {
        var first = a.Held?.Token ?? "fitting";
        var second = b.Held?.Token ?? "fitting";
        return new Contradiction($"{kind} {Pair(first, second)}", truck.Id, [first, second], "meter_h", sentence);
    }

    private sealed record MeterReading(
        HeldRecord? Held, DateTimeOffset At, DateTimeOffset Earliest, DateTimeOffset Latest, double MeterH, double LowH, double HighH);
}
