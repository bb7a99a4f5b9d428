using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Store.Tests.Influx;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Outbox;

/// <summary>The outbox forwards to another server that speaks line protocol, under load and over its restarts; see <see cref="VictoriaDaemon"/> for what it promises.</summary>
public sealed class VictoriaLoadTests : IDisposable
{
    private const int Trucks = 6;
    private readonly DataFolder folder = new();

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        folder.Dispose();
    }

    [SkippableFact]
    public async Task Load_ArrivesOnceAndUnchanged_OverARestart()
    {
        await using var server = await VictoriaDaemon.StartAsync();
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(server.Url));
        rig.Start();
        var sent = new Dictionary<string, List<Sample>>(StringComparer.Ordinal);
        for (var batch = 0; batch < 60; batch++)
        {
            // In the midst it goes away and comes back; samples go on arriving.
            if (batch == 20)
            {
                await server.StopAsync();
            }
            else if (batch == 30)
            {
                await server.StartAgainAsync();
            }

            await SendAsync(rig, sent, batch, 300);
        }

        await rig.DrainedAsync();
        Assert.Empty(await rig.RejectedAsync());
        foreach (var (truck, samples) in sent)
        {
            foreach (var signal in new[] { Signal.Vacuum, Signal.PumpTemp })
            {
                var wanted = Values(samples, signal);
                Assert.Equal(wanted, await server.ValuesAsync(truck, signal, wanted));
            }
        }
    }

    [SkippableFact]
    public async Task KilledServer_LosesItsOwnLastSecondsAtMost_AndForwardingGoesOn()
    {
        await using var server = await VictoriaDaemon.StartAsync();
        await using var rig = new OutboxRig(folder.Path, OutboxRig.Options(server.Url));
        rig.Start();
        var sent = new Dictionary<string, List<Sample>>(StringComparer.Ordinal);
        await SendAsync(rig, sent, 0, 500);
        await rig.DrainedAsync();

        // By now the server has promised these: it has had four times the time it takes to write them. Nothing tells when it has.
        await Task.Delay(4 * VictoriaDaemon.FlushInterval);
        await SendAsync(rig, sent, 1, 500);
        await rig.DrainedAsync();
        await server.KillAsync();
        await SendAsync(rig, sent, 2, 500);
        await server.StartAgainAsync();
        await rig.DrainedAsync();

        foreach (var (truck, samples) in sent)
        {
            var wanted = Values(samples, Signal.Vacuum);
            var promised = wanted.Take(500).Concat(wanted.Skip(1000)).ToList();
            var held = await server.ValuesAsync(truck, Signal.Vacuum, promised);
            Assert.Equal(held.Distinct(), held);
            Assert.Subset(wanted.ToHashSet(), held.ToHashSet());
            Assert.Empty(promised.Except(held));
        }
    }

    private static async Task SendAsync(OutboxRig rig, Dictionary<string, List<Sample>> sent, int batch, int each)
    {
        var all = new List<Sample>();
        for (var t = 1; t <= Trucks; t++)
        {
            var samples = Enumerable.Range(0, each)
                .Select(i => At($"T{t}", Start + (((batch * each) + i) * 1000L), (Signal.Vacuum, (t * 10) + (i % 97 / 8.0)), (Signal.PumpTemp, 60 + (batch / 4.0))))
                .ToList();
            all.AddRange(samples);
            if (!sent.TryGetValue($"T{t}", out var own))
            {
                sent[$"T{t}"] = own = [];
            }

            own.AddRange(samples);
        }

        await rig.Store.WriteAsync(all, CancellationToken.None);
    }

    private static List<(long, double)> Values(List<Sample> samples, Signal signal) => [.. samples.Select(s => (s.UnixMs, s[signal]!.Value))];
}
