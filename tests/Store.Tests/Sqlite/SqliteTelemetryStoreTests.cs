using Microsoft.Data.Sqlite;
using Vanehour.Fleet;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;
using Vanehour.Store.Tests.Telemetry;
using static Vanehour.Store.Tests.Telemetry.Samples;

namespace Vanehour.Store.Tests.Sqlite;

/// <summary>What is particular to samples.db.</summary>
public sealed class SqliteTelemetryStoreTests : IDisposable
{
    private readonly DataFolder folder = new();
    private readonly SqliteDatabase database;
    private readonly SqliteTelemetryStore store;

    public SqliteTelemetryStoreTests()
    {
        database = SqliteDatabase.Open(folder.Path, SamplesSchema.Current);
        store = new SqliteTelemetryStore(database);
    }

    public void Dispose()
    {
        store.Dispose();
        folder.Dispose();
    }

    [Fact]
    public void Schema_HasAColumnForEverySignal()
    {
        using var connection = database.Connect();
        using var command = connection.CreateCommand();
        command.CommandText = "SELECT name FROM pragma_table_info('sample') WHERE type='REAL' ORDER BY cid";
        using var reader = command.ExecuteReader();
        var columns = new List<string>();
        while (reader.Read())
        {
            columns.Add(reader.GetString(0));
        }

        Assert.Equal(SignalInfo.All.Select(s => s.Name), columns);
    }

    [Fact]
    public void Schema_HasAnApplicationIdOfItsOwn() => Assert.NotEqual(FleetSchema.Current.ApplicationId, SamplesSchema.Current.ApplicationId);

    // What a kill -9 leaves is the files as they are on disk at that moment, the log not yet folded in: a copy of them is that state.
    [Fact]
    public async Task KilledProcess_HasEveryStoredBatchOnDisk()
    {
        await store.WriteAsync(Series("T1", 1000));
        await store.WriteAsync(Series("T1", 10, Start + 5));
        Assert.True(new FileInfo(folder.File("samples.db-wal")).Length > 0);
        using var after = new DataFolder();
        foreach (var file in Directory.GetFiles(folder.Path))
        {
            File.Copy(file, after.File(Path.GetFileName(file)));
        }

        var reopenedDatabase = SqliteDatabase.Open(after.Path, SamplesSchema.Current);
        using var reopened = new SqliteTelemetryStore(reopenedDatabase);

        Assert.Equal("ok", reopenedDatabase.Run("PRAGMA integrity_check"));
        Assert.Equal(1010, (await reopened.ReadAsync("T1")).Count);
        Assert.Equal([new TruckExtent("T1", 1010, Start, Start + 9_990_000)], await reopened.TrucksAsync());
        Assert.Equal(Start, Assert.Single(await reopened.TouchedAsync()).EarliestMs);
    }

    [Fact]
    public async Task KilledProcess_HalfWrittenBatchLeavesNoTrace()
    {
        await store.WriteAsync(Series("T1", 10));
        using var after = new DataFolder();
        using (var connection = database.Connect())
        using (var transaction = connection.BeginTransaction())
        {
            // So little cache that the batch spills into the log before its commit.
            connection.Run("PRAGMA cache_size=1");
            connection.Run(
                "INSERT INTO sample(truck_id, at_ms, baro) WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n WHERE i<20000) SELECT 1, i, 100 FROM n");
            Assert.True(new FileInfo(folder.File("samples.db-wal")).Length > 200_000);
            foreach (var file in Directory.GetFiles(folder.Path))
            {
                File.Copy(file, after.File(Path.GetFileName(file)));
            }

            connection.Run("PRAGMA cache_size=-2000");
        }

        using var reopened = new SqliteTelemetryStore(SqliteDatabase.Open(after.Path, SamplesSchema.Current));

        Assert.Equal(Series("T1", 10), await reopened.ReadAsync("T1"));
    }

    [Fact]
    public async Task LockedByAnother_IsSaid_AndTheSameBatchGoesInLater()
    {
        await store.WriteAsync(Series("T1", 1));
        using var hasty = new SqliteTelemetryStore(SqliteDatabase.Open(folder.Path, SamplesSchema.Current, TimeSpan.FromMilliseconds(200)));
        using (var other = database.Connect())
        using (other.BeginTransaction(deferred: false))
        {
            var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => hasty.WriteAsync(Series("T1", 5)));

            Assert.Equal($"{database.Path} is in use by another program that does not let go; stop that program and try again.", e.Message);
            Assert.IsType<SqliteException>(e.InnerException);
            Assert.Single(await hasty.ReadAsync("T1"));
        }

        await hasty.WriteAsync(Series("T1", 5));
        Assert.Equal(Series("T1", 5), await store.ReadAsync("T1"));
    }

    // A limit on the pages of the file fails as a full disk does. It belongs to a connection, so it is set on the pooled one that the
    // store takes over next.
    [Fact]
    public async Task FullDisk_IsSaid_NothingOfTheBatchStays_AndTheStoreGoesOnOnceThereIsRoom()
    {
        LimitPages(20);

        await store.WriteAsync(Series("T1", 10));
        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => store.WriteAsync(Series("T2", 20_000)));

        Assert.Equal($"The disk that holds {database.Path} is full; free some space and start again.", e.Message);
        Assert.Equal([new TruckExtent("T1", 10, Start, Start + 90_000)], await store.TrucksAsync());
        Assert.Empty(await store.ReadAsync("T2"));
        LimitPages(1_000_000);
        await store.WriteAsync(Series("T2", 20_000));
        Assert.Equal(20_000, (await store.ReadAsync("T2")).Count);
        Assert.Equal("ok", database.Run("PRAGMA integrity_check"));

        void LimitPages(int pages)
        {
            SqliteConnection[] pooled = [database.Connect(), database.Connect(), database.Connect(), database.Connect()];
            foreach (var connection in pooled)
            {
                connection.Run($"PRAGMA max_page_count={pages}");
                connection.Dispose();
            }
        }
    }

    [Fact]
    public async Task FileGone_IsAnOutageOfReading()
    {
        using (var connection = database.Connect())
        {
            SqliteConnection.ClearPool(connection);
        }

        File.Delete(database.Path);

        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => store.TrucksAsync());

        Assert.Contains("cannot be", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SlowReader_DoesNotHoldUpTheCheckpoint()
    {
        await store.WriteAsync(Series("T1", 30_000));
        await using var reader = store.ReadAsync("T1", long.MinValue, long.MaxValue, CancellationToken.None).GetAsyncEnumerator();
        Assert.True(await reader.MoveNextAsync());
        await store.WriteAsync(Series("T2", 30_000));

        // The first column says whether anybody held it up.
        Assert.Equal(0L, database.Run("PRAGMA wal_checkpoint(TRUNCATE)"));
        Assert.Equal(0, new FileInfo(folder.File("samples.db-wal")).Length);

        var rest = 1;
        while (await reader.MoveNextAsync())
        {
            rest++;
        }

        Assert.Equal(30_000, rest);
    }

    [Fact]
    public async Task Disposed_TakesNothingMore()
    {
        await store.WriteAsync(Series("T1", 1));
        store.Dispose();

        await Assert.ThrowsAsync<ObjectDisposedException>(() => store.WriteAsync(Series("T1", 5)));
    }

    [Fact]
    public async Task DeleteBefore_KeepsExtentsRight_AndTouchesNothing()
    {
        await store.WriteAsync([.. Series("T1", 25_000), .. Series("T2", 10, Start + 240_000_000), .. Series("T3", 10)]);
        await store.SettleAllAsync();
        var cut = Start + 239_000_000;

        Assert.Equal(23_900 + 10, await store.DeleteBeforeAsync(cut, CancellationToken.None));

        Assert.Equal(Series("T1", 25_000)[23_900..], await store.ReadAsync("T1"));
        Assert.Equal(Series("T2", 10, Start + 240_000_000), await store.ReadAsync("T2"));
        Assert.Equal(
            [
                new TruckExtent("T1", 1100, cut, Start + 249_990_000) { KeptFromMs = cut },
                new TruckExtent("T2", 10, Start + 240_000_000, Start + 240_090_000),
                new TruckExtent("T3", 0, Start + 90_000, Start + 90_000) { KeptFromMs = Start + 90_001 },
            ],
            await store.TrucksAsync());
        Assert.Empty(await store.TouchedAsync());
        Assert.Equal(0, await store.DeleteBeforeAsync(cut, CancellationToken.None));
    }

    [Fact]
    public async Task TruckEmptiedByDeletion_BeginsAnew()
    {
        await store.WriteAsync(Series("T1", 10));
        await store.DeleteBeforeAsync(long.MaxValue, CancellationToken.None);

        await store.WriteAsync(Series("T1", 2, Start - 50_000));

        // A late sample from before the cut does not make that time look whole again.
        Assert.Equal([new TruckExtent("T1", 2, Start - 50_000, Start - 40_000) { KeptFromMs = Start + 90_001 }], await store.TrucksAsync());
    }

    [Fact]
    public async Task DeleteBefore_Cancelled_LeavesExtentsRight()
    {
        await store.WriteAsync(Series("T1", 10));

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => store.DeleteBeforeAsync(long.MaxValue, new CancellationToken(canceled: true)));

        Assert.Equal([new TruckExtent("T1", 10, Start, Start + 90_000)], await store.TrucksAsync());
    }
}
