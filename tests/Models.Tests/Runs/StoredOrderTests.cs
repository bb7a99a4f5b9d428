using FsCheck.Xunit;
using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models.Runs;
using Vanehour.Store.Sqlite;

namespace Vanehour.Models.Tests.Runs;

/// <summary>Late, twice, out of order, through the stores as they are used: the touched instants tell what to derive again, and the runs are those of data in order.</summary>
public class StoredOrderTests
{
    [Property(MaxTest = 12)]
    public void ShuffledAndRedelivered_GivesTheRunsOfOrderedData(int seed)
    {
        using var stores = new Stores();
        var noise = new Noise(seed);
        var samples = OrderOfArrivalTests.Feed(noise, seed);
        var sent = new List<List<Sample>>();
        foreach (var chunk in OrderOfArrivalTests.Chunks(noise, samples))
        {
            sent.Add(chunk);
            stores.Write(chunk);
            if (noise.Below(4) == 0)
            {
                stores.Write(sent[noise.Below(sent.Count)]);
            }

            if (noise.Below(3) == 0)
            {
                stores.Derive();
            }
        }

        stores.Derive();

        Assert.Equal(RunDeriverTests.Derive(samples), stores.Runs.Read("T01"));
        Assert.Empty(stores.Samples.TouchedAsync(default).GetAwaiter().GetResult());
    }

    [Fact]
    public void LateSample_IsDerivedFromItsOwnDayOn_ARedeliveryNotAtAll()
    {
        using var stores = new Stores();
        var feed = new TruckFeed(51) { EveryS = 20 };
        for (var day = 0; day < 8; day++)
        {
            feed.Day();
        }

        // The last sample of the sixth day's first job comes late.
        var firsts = RunDeriverTests.Derive(feed.Samples);
        var late = feed.Samples.Last(s => s.At < firsts[16].End);
        stores.Write([.. feed.Samples.Where(s => s != late)]);
        var whole = stores.Derive();
        var before = stores.Runs.Read("T01");

        stores.Write(feed.Samples.Take(500).ToList());
        Assert.Empty(stores.Derive().Derived);

        stores.Write([late]);
        var again = stores.Derive();

        Assert.Equal(firsts, stores.Runs.Read("T01"));
        Assert.NotEqual(firsts, before);
        Assert.Equal(before.Take(15), stores.Runs.Read("T01").Take(15));
        Assert.InRange(again.RunsWritten, 1, firsts.Count - 15);
        Assert.True(again.SamplesRead < 0.5 * whole.SamplesRead, $"{again.SamplesRead} of {whole.SamplesRead} samples read again");
    }

    private sealed class Stores : IDisposable
    {
        private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("vanehour-runs-");
        private readonly RunDerivation derivation;

        public Stores()
        {
            Samples = new SqliteTelemetryStore(SqliteDatabase.Open(folder.FullName, SamplesSchema.Current));
            Runs = new SqliteRunStore(SqliteDatabase.Open(folder.FullName, FleetSchema.Current));
            var clock = new FakeTimeProvider(Register.Fitted.AddDays(100));
            derivation = new RunDerivation(Samples, Runs, Register.Of(Register.Truck()), clock, new RunSettings());
        }

        public SqliteTelemetryStore Samples { get; }

        public SqliteRunStore Runs { get; }

        public void Write(IReadOnlyList<Sample> batch) => Samples.WriteAsync(batch, default).GetAwaiter().GetResult();

        public RunDerivationResult Derive() => derivation.DeriveAsync(null, null, default).GetAwaiter().GetResult();

        public void Dispose()
        {
            Samples.Dispose();
            folder.Delete(recursive: true);
        }
    }
}
