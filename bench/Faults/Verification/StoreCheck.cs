using System.Globalization;
using Microsoft.Data.Sqlite;
using Vanehour.Bench.Faults.Feed;
using Vanehour.Fleet;
using Vanehour.Host.Composition;

namespace Vanehour.Bench.Faults.Verification;

/// <summary>Compares what workers have stored with what the ledger says they must have.</summary>
internal static class StoreCheck
{
    /// <summary>Reads every sample of every folder. Works beside running workers.</summary>
    /// <param name="ledger">What was sent and acknowledged.</param>
    /// <param name="folders">The workers' data folders.</param>
    public static async Task<StoreVerdict> RunAsync(FeedLedger ledger, params IReadOnlyList<string> folders)
    {
        var messages = ledger.Snapshot();
        var samples = Due(messages);
        long invented = 0;
        long duplicated = 0;
        long rejects = 0;
        var damage = new List<string>();
        foreach (var folder in folders)
        {
            using var data = DataFolder.Open(folder);
            foreach (var extent in await data.Samples.TrucksAsync(default))
            {
                var truck = int.Parse(extent.Truck.AsSpan(1), CultureInfo.InvariantCulture);
                long read = 0;
                await foreach (var sample in data.Samples.ReadAsync(extent.Truck, long.MinValue, long.MaxValue, default))
                {
                    read++;
                    if (sample.UnixMs % 1000 != 0)
                    {
                        invented++;
                        continue;
                    }

                    var key = (truck, sample.UnixMs / 1000);
                    samples.TryGetValue(key, out var coverage);
                    coverage.See(sample, truck);
                    samples[key] = coverage;
                }

                // A running worker may have stored more since the extents were read; a roll-up that says more than there is has counted something twice.
                duplicated += Math.Max(0, extent.Samples - read);
            }

            rejects += (await data.Rejects.CountAsync(default)).Values.Sum();
            damage.AddRange(Damage(Path.Combine(folder, "samples.db")));
        }

        return new StoreVerdict
        {
            Expected = samples.Values.LongCount(c => (c.Pump | c.Ambient).HasFlag(Duty.BrokerTook)),
            Stored = samples.Values.LongCount(c => c.Stores > 0),
            Lost = samples.Values.LongCount(c => c.Misses(Duty.BrokerTook)),
            LostByWorker = samples.Values.LongCount(c => c.Misses(Duty.WorkerTook)),
            LostMessages = messages.LongCount(m => m.Duty.HasFlag(Duty.BrokerTook) && Misses(m.Message, samples)),
            Invented = invented + ledger.UnknownAcknowledged + samples.Values.LongCount(c => c.IsWrong),
            Duplicated = duplicated,
            InSeveralStores = samples.Values.LongCount(c => c.Stores > 1),
            Rejects = rejects,
            Damage = damage,
        };
    }

    /// <summary>Of messages that a worker has acknowledged, how many are not wholly stored with the right values.</summary>
    public static async Task<int> CountMissingAsync(string folder, IReadOnlyList<PlannedMessage> messages)
    {
        var missing = 0;
        using var data = DataFolder.Open(folder);
        var waiting = data.Remote is null ? null : Waiting(Path.Combine(folder, "samples.db"));
        foreach (var message in messages)
        {
            // What is in the outbox is stored as well; a sample may be in both for a moment.
            if (waiting is not null && Enumerable.Range(0, PlannedMessage.Instants).All(i => waiting.Contains(
                (PlannedMessage.TruckId(message.Truck), message.FirstS + ((long)i * PlannedMessage.StepS), message.IsAmbient))))
            {
                continue;
            }

            var found = 0;
            var firstMs = message.FirstS * 1000;
            var step = PlannedMessage.StepS * 1000;
            await foreach (var sample in data.Samples.ReadAsync(
                PlannedMessage.TruckId(message.Truck), firstMs, firstMs + ((long)PlannedMessage.Instants * step), default))
            {
                found += Holds(sample, message) ? 1 : 0;
            }

            missing += found == PlannedMessage.Instants ? 0 : 1;
        }

        return missing;
    }

    // Which instants of pump or of ambient signals wait in the outbox. Their values are checked once they are on the server.
    private static HashSet<(string Truck, long AtS, bool IsAmbient)> Waiting(string path)
    {
        using var connection = new SqliteConnection($"Data Source={path};Mode=ReadOnly;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT t.truck, o.at_ms, o.ambient_temp IS NOT NULL FROM outbox o JOIN remote_truck t ON t.id = o.truck_id";
        using var reader = command.ExecuteReader();
        var waiting = new HashSet<(string, long, bool)>();
        while (reader.Read())
        {
            waiting.Add((reader.GetString(0), reader.GetInt64(1) / 1000, reader.GetBoolean(2)));
        }

        return waiting;
    }

    private static bool Holds(Sample sample, PlannedMessage message)
    {
        Signal[] signals = message.IsAmbient ? [Signal.AmbientTemp] : Coverage.PumpSignals;
        return Array.TrueForAll(signals, s => sample[s] is { } value && value.Equals(FeedValues.Of(s, message.Truck, sample.UnixMs / 1000)));
    }

    private static Dictionary<(int Truck, long AtS), Coverage> Due(IReadOnlyList<(PlannedMessage Message, Duty Duty)> messages)
    {
        var samples = new Dictionary<(int Truck, long AtS), Coverage>();
        foreach (var (message, duty) in messages)
        {
            foreach (var key in Keys(message))
            {
                samples.TryGetValue(key, out var coverage);
                if (message.IsAmbient)
                {
                    coverage.Ambient |= duty;
                }
                else
                {
                    coverage.Pump |= duty;
                }

                samples[key] = coverage;
            }
        }

        return samples;
    }

    private static bool Misses(PlannedMessage message, Dictionary<(int Truck, long AtS), Coverage> samples) =>
        Keys(message).Any(k => message.IsAmbient ? !samples[k].HasAmbient : !samples[k].HasPump);

    private static IEnumerable<(int Truck, long AtS)> Keys(PlannedMessage message) =>
        Enumerable.Range(0, PlannedMessage.Instants).Select(i => (message.Truck, message.FirstS + ((long)i * PlannedMessage.StepS)));

    private static List<string> Damage(string path)
    {
        using var connection = new SqliteConnection($"Data Source={path};Mode=ReadOnly;Pooling=False");
        connection.Open();
        using var command = connection.CreateCommand();
        command.CommandText = "PRAGMA integrity_check";
        using var reader = command.ExecuteReader();
        var found = new List<string>();
        while (reader.Read())
        {
            if (reader.GetString(0) is not "ok" and var problem)
            {
                found.Add(problem);
            }
        }

        return found;
    }
}
