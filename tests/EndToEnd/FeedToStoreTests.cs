using System.Text;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Ingest.Tests.Brokers;
using Vanehour.Store.Rejects;

namespace Vanehour.EndToEnd;

/// <summary>From a real broker to the store: everything once, nothing lost, nothing invented.</summary>
public sealed class FeedToStoreTests : IDisposable
{
    private const int Packs = 2500;
    private const long StartS = 1_767_340_800;

    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-e2e-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [SkippableFact]
    public async Task FiftyThousandSamplesAreStoredOnceThoughTheBrokerIsKilledAndEverythingIsSentTwice()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = await RunningWorker.StartAsync(folder, broker.Port);
        await using (var publisher = await FeedPublisher.ConnectAsync(broker.Port))
        {
            for (var pack = 0; pack < Packs / 2; pack++)
            {
                await publisher.SendAsync("fleet/T07/pump", FeedPublisher.Pack("T07", StartS, pack));
            }
        }

        // Killed, not stopped: what it had not saved is gone, and the gateway sends all of it again, most of it for the second time.
        await broker.KillAsync();
        await worker.Monitor.WaitForAsync(s => !s.Connected, RunningWorker.Limit());
        await broker.StartAgainAsync();
        await worker.Monitor.WaitForAsync(s => s.Connected, RunningWorker.Limit());
        await using (var publisher = await FeedPublisher.ConnectAsync(broker.Port))
        {
            for (var pack = 0; pack < Packs; pack++)
            {
                await publisher.SendAsync("fleet/T07/pump", FeedPublisher.Pack("T07", StartS, pack));
            }
        }

        await WaitForSamplesAsync(worker, Packs * FeedPublisher.InstantsPerPack);
        await worker.Monitor.WaitForAsync(s => s.Backlog == 0, RunningWorker.Limit());
        var stored = 0;
        await foreach (var sample in worker.Data.Samples.ReadAsync("T07", 0, long.MaxValue, default))
        {
            Assert.Equal((StartS + (stored * 10L)) * 1000, sample.UnixMs);
            Assert.Equal(FeedPublisher.VacuumKPa(stored), sample[Signal.Vacuum]);
            Assert.Equal(FeedPublisher.TemperatureC(stored), sample[Signal.PumpTemp]);
            Assert.Null(sample[Signal.Pto]);
            stored++;
        }

        Assert.Equal(50_000, stored);
        Assert.Equal(50_000, Assert.Single(await worker.Data.Samples.TrucksAsync(default)).Samples);
        Assert.Empty(await worker.Data.Rejects.CountAsync(default));
    }

    [SkippableFact]
    public async Task WhatArrivesWhileTheWorkerIsAwayIsStoredWhenItComesBack()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using (await RunningWorker.StartAsync(folder, broker.Port))
        {
            // Its subscription and session now exist at the broker.
        }

        await using (var publisher = await FeedPublisher.ConnectAsync(broker.Port))
        {
            for (var pack = 0; pack < 50; pack++)
            {
                await publisher.SendAsync("fleet/T07/pump", FeedPublisher.Pack("T07", StartS, pack));
            }
        }

        await broker.StopAsync();
        await broker.StartAgainAsync();
        await using var worker = await RunningWorker.StartAsync(folder, broker.Port);
        await WaitForSamplesAsync(worker, 50 * FeedPublisher.InstantsPerPack);
    }

    [SkippableFact]
    public async Task TheShippedBrokerConfigurationKeepsMoreThanTheDefaultQueueForAnAbsentWorker()
    {
        await using var broker = await MosquittoBroker.StartAsync(new MosquittoSettings { BaseConfiguration = await File.ReadAllTextAsync("mosquitto.conf") });
        await using (await RunningWorker.StartAsync(folder, broker.Port))
        {
        }

        // Mosquitto's own default would keep 1 000 of these.
        await using (var publisher = await FeedPublisher.ConnectAsync(broker.Port))
        {
            for (var pack = 0; pack < 1500; pack++)
            {
                await publisher.SendAsync("fleet/T07/pump", FeedPublisher.Pack("T07", StartS, pack));
            }
        }

        await using var worker = await RunningWorker.StartAsync(folder, broker.Port);
        await WaitForSamplesAsync(worker, 1500 * FeedPublisher.InstantsPerPack);
    }

    [SkippableFact]
    public async Task TheExampleOfTheFormatsPageIsStoredAsItReads()
    {
        const string Example =
            """
            [{"bn":"T07/","bt":1767340800,"n":"pto_hours","u":"h","v":4312.41},
             {"n":"pto","vb":true},
             {"n":"vacuum","u":"inHg","v":16.2},
             {"n":"pump_temp","u":"Cel","v":86.5},
             {"n":"ambient_temp","u":"Cel","v":11.0},
             {"n":"pump_speed","u":"1/min","v":1180},
             {"n":"oil_used","u":"l","v":512.31},
             {"n":"vacuum","u":"inHg","t":2,"v":16.6}]
            """;
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = await RunningWorker.StartAsync(folder, broker.Port);
        await using var publisher = await FeedPublisher.ConnectAsync(broker.Port);
        await publisher.SendAsync("fleet/T07/pump", Example);
        await WaitForSamplesAsync(worker, 2);

        var samples = new List<Sample>();
        await foreach (var sample in worker.Data.Samples.ReadAsync("T07", 0, long.MaxValue, default))
        {
            samples.Add(sample);
        }

        Assert.Equal([1_767_340_800_000, 1_767_340_802_000], samples.Select(s => s.UnixMs));
        Assert.Equal(4312.41, samples[0][Signal.PtoHours]);
        Assert.Equal(1, samples[0][Signal.Pto]);
        Assert.Equal(16.2 * 3.386389, samples[0][Signal.Vacuum]!.Value, 1e-5); // NIST SP 811, conventional inch of mercury, kPa.
        Assert.Equal(86.5, samples[0][Signal.PumpTemp]);
        Assert.Equal(11.0, samples[0][Signal.AmbientTemp]);
        Assert.Equal(1180, samples[0][Signal.PumpSpeed]!.Value, 1e-9);
        Assert.Equal(512.31, samples[0][Signal.OilUsed]!.Value, 1e-9);
        Assert.Equal(16.6 * 3.386389, samples[1][Signal.Vacuum]!.Value, 1e-5);
        Assert.Null(samples[1][Signal.PumpTemp]);
    }

    [SkippableFact]
    public async Task EveryKindOfBadInputIsKeptUnderItsReasonAndTheGoodBesideItIsStored()
    {
        var future = DateTimeOffset.FromUnixTimeMilliseconds(TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds()).AddMinutes(30).ToUnixTimeSeconds();
        (RejectReason Reason, string Topic, byte[] Payload)[] bad =
        [
            (RejectReason.MalformedPayload, "fleet/B01/pump", "not json"u8.ToArray()),
            (RejectReason.MalformedPayload, "fleet/B01/pump", [0xFF, 0xFE, 0x00]),
            (RejectReason.PayloadTooLarge, "fleet/B01/pump", Encoding.ASCII.GetBytes("[" + new string(' ', 256 * 1024) + "]")),
            (RejectReason.TooManyRecords, "fleet/B01/pump", Encoding.ASCII.GetBytes("[" + string.Join(',', Enumerable.Repeat("{}", 10_001)) + "]")),
            (RejectReason.UnsupportedVersion, "fleet/B01/pump", Text("""[{"bver":11,"n":"vacuum","u":"kPa","t":1767340800,"v":1}]""")),
            (RejectReason.UnknownMandatoryLabel, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"kPa","t":1767340800,"v":1,"must_":1}]""")),
            (RejectReason.InvalidRecord, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"kPa","t":1767340800,"v":1,"vb":true}]""")),
            (RejectReason.TruckMismatch, "fleet/B01/pump", Text("""[{"bn":"B02/","n":"vacuum","u":"kPa","t":1767340800,"v":1}]""")),
            (RejectReason.UnknownSignal, "fleet/B01/pump", Text("""[{"n":"colour","u":"kPa","t":1767340800,"v":1}]""")),
            (RejectReason.MissingUnit, "fleet/B01/pump", Text("""[{"n":"vacuum","t":1767340800,"v":1}]""")),
            (RejectReason.WrongUnit, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"Cel","t":1767340800,"v":1}]""")),
            (RejectReason.NotFinite, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"kPa","t":1767340800,"v":1e999}]""")),
            (RejectReason.OutOfRange, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"kPa","t":1767340800,"v":106}]""")),
            (RejectReason.RelativeTime, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"kPa","t":-5,"v":1}]""")),
            (RejectReason.TooOld, "fleet/B01/pump", Text("""[{"n":"vacuum","u":"kPa","t":946684799,"v":1}]""")),
            (RejectReason.InFuture, "fleet/B01/pump", Text($$"""[{"n":"vacuum","u":"kPa","t":{{future}},"v":1}]""")),
            (RejectReason.UnknownTopic, "fleet/B 01/pump", Text("""[{"n":"vacuum","u":"kPa","t":1767340800,"v":1}]""")),
        ];
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = await RunningWorker.StartAsync(folder, broker.Port);
        await using var publisher = await FeedPublisher.ConnectAsync(broker.Port);
        foreach (var (_, topic, payload) in bad)
        {
            await publisher.SendAsync(topic, payload);
        }

        // A bad record among good ones fails alone.
        await publisher.SendAsync(
            "fleet/G01/pump", """[{"n":"vacuum","u":"kPa","t":1767340800,"v":30},{"n":"vacuum","u":"kPa","t":1767340810,"v":500},{"n":"vacuum","u":"kPa","t":1767340820,"v":31}]""");
        for (var i = 0; i < 21; i++)
        {
            await publisher.SendAsync($"fleet/N{i:00}/pump", """[{"n":"vacuum","u":"kPa","t":1767340800,"v":30}]""");
        }

        await worker.Monitor.WaitForAsync(s => s.MessagesAcknowledged == bad.Length + 22, RunningWorker.Limit());
        var counts = await worker.Data.Rejects.CountAsync(default);
        var expected = bad.GroupBy(b => b.Reason).ToDictionary(g => g.Key, g => (long)g.Count());
        expected[RejectReason.OutOfRange]++;
        expected[RejectReason.TooManyTrucks] = 2; // 20 are admitted: G01 and 19 of the 21.
        Assert.Equal(expected.OrderBy(p => p.Key), counts.OrderBy(p => p.Key));

        var kept = await worker.Data.Rejects.ReadAsync(100, default);
        var text = Encoding.UTF8.GetString(Assert.Single(kept, r => r.Reject.Reason == RejectReason.WrongUnit).Reject.Payload.Span);
        Assert.Equal("""[{"n":"vacuum","u":"Cel","t":1767340800,"v":1}]""", text);
        Assert.All(kept, r => Assert.True(r.Reject.Payload.Length <= Reject.KeptBytes));
        Assert.Equal(2, (await worker.Data.Samples.TrucksAsync(default)).Single(t => t.Truck == "G01").Samples);
        Assert.DoesNotContain(await worker.Data.Samples.TrucksAsync(default), t => t.Truck.StartsWith('B'));
    }

    [SkippableFact]
    public async Task ATruckThatFloodsTheFeedIsHeldToItsRate()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = await RunningWorker.StartAsync(folder, broker.Port, options =>
        {
            options.RatePerSecond = 1;
            options.RateBurst = 5;
        });
        await using var publisher = await FeedPublisher.ConnectAsync(broker.Port);
        for (var pack = 0; pack < 60; pack++)
        {
            await publisher.SendAsync("fleet/T07/pump", FeedPublisher.Pack("T07", StartS, pack));
        }

        await publisher.SendAsync("fleet/T08/pump", FeedPublisher.Pack("T08", StartS, 0));
        await worker.Monitor.WaitForAsync(s => s.MessagesAcknowledged == 61, RunningWorker.Limit());
        var refused = (await worker.Data.Rejects.CountAsync(default))[RejectReason.RateLimited];
        var stored = (await worker.Data.Samples.TrucksAsync(default)).ToDictionary(t => t.Truck, t => t.Samples);
        Assert.InRange(refused, 1, 55);
        Assert.Equal((60 - refused) * FeedPublisher.InstantsPerPack, stored["T07"]);
        Assert.Equal(FeedPublisher.InstantsPerPack, stored["T08"]);
    }

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);

    private static async Task WaitForSamplesAsync(RunningWorker worker, int samples)
    {
        var limit = RunningWorker.Limit();
        while ((await worker.Data.Samples.TrucksAsync(limit)).Sum(t => t.Samples) < samples)
        {
            await Task.Delay(50, limit);
        }
    }
}
