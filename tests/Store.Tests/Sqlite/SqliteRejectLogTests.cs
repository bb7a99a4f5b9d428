using System.Text;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Rejects;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Sqlite;

public sealed class SqliteRejectLogTests : IDisposable
{
    private readonly DataFolder folder = new();
    private readonly SqliteDatabase database;

    public SqliteRejectLogTests() => database = SqliteDatabase.Open(folder.Path, SamplesSchema.Current);

    public void Dispose() => folder.Dispose();

    [Fact]
    public async Task EmptyLog_HasNothing()
    {
        var log = new SqliteRejectLog(database);
        await log.AddAsync([], CancellationToken.None);

        Assert.Empty(await log.ReadAsync(10, CancellationToken.None));
        Assert.Empty(await log.CountAsync(CancellationToken.None));
    }

    [Fact]
    public async Task Reject_ComesBackAsItArrived_InAnotherLogToo()
    {
        byte[] payload = [0, 255, 0x27, 0xC3];
        await new SqliteRejectLog(database).AddAsync(
            [new Reject("fleet/T'1/pump", 77, RejectReason.WrongUnit, "record 3: 'u' is \"psi\"", payload)], CancellationToken.None);

        var stored = Assert.Single(await new SqliteRejectLog(database).ReadAsync(10, CancellationToken.None));

        Assert.Equal(("fleet/T'1/pump", 77L, RejectReason.WrongUnit, "record 3: 'u' is \"psi\""), Parts(stored.Reject));
        Assert.Equal(payload, stored.Reject.Payload.ToArray());
        Assert.Equal((77L, 1L), (stored.LastArrivedMs, stored.Times));
    }

    [Fact]
    public async Task SameReject_IsKeptOnceAndCounted()
    {
        var log = new SqliteRejectLog(database);
        await log.AddAsync([At(100), At(250)], CancellationToken.None);
        await log.AddAsync([At(200)], CancellationToken.None);

        var stored = Assert.Single(await log.ReadAsync(10, CancellationToken.None));

        Assert.Equal((100L, 250L, 3L), (stored.Reject.ArrivedMs, stored.LastArrivedMs, stored.Times));
        Assert.Equal(3, (await log.CountAsync(CancellationToken.None))[RejectReason.OutOfRange]);
    }

    [Fact]
    public async Task AnyDifferentPart_MakesAnotherReject()
    {
        var log = new SqliteRejectLog(database);
        Reject[] rejects =
        [
            Of("ab", "c", "p"), Of("a", "bc", "p"), Of("ab", "", "cp"), Of("ab", "c", "q"),
            Of("ab", "c", "p") with { Reason = RejectReason.TooOld },
        ];

        await log.AddAsync(rejects, CancellationToken.None);

        Assert.Equal(rejects.Length, (await log.ReadAsync(10, CancellationToken.None)).Count);

        static Reject Of(string topic, string detail, string payload) =>
            new(topic, 1, RejectReason.MalformedPayload, detail, Encoding.UTF8.GetBytes(payload));
    }

    [Fact]
    public async Task LongPayload_IsKeptToItsLimit_AndStillCountsAsTheSame()
    {
        var log = new SqliteRejectLog(database);
        var payload = Enumerable.Range(0, 6000).Select(i => (byte)i).ToArray();
        await log.AddAsync(
            [At(1) with { Payload = payload }, At(2) with { Payload = payload.AsMemory(0, Reject.KeptBytes) }], CancellationToken.None);

        var stored = Assert.Single(await log.ReadAsync(10, CancellationToken.None));

        Assert.Equal(payload[..Reject.KeptBytes], stored.Reject.Payload.ToArray());
        Assert.Equal(2, stored.Times);
    }

    [Fact]
    public async Task Read_GivesTheLatestArrivalsFirst()
    {
        var log = new SqliteRejectLog(database);
        await log.AddAsync([At(10, "a"), At(30, "b"), At(20, "c"), At(40, "a")], CancellationToken.None);

        Assert.Equal(["a", "b"], (await log.ReadAsync(2, CancellationToken.None)).Select(r => r.Reject.Detail));
        Assert.Empty(await log.ReadAsync(0, CancellationToken.None));
    }

    [Fact]
    public async Task OverTheLimit_TheOldestArrivalsGo_TheCountsStay()
    {
        var log = new SqliteRejectLog(database, keepDistinct: 3);
        await log.AddAsync([At(1, "a"), At(2, "b"), At(3, "c") with { Reason = RejectReason.TooOld }], CancellationToken.None);
        await log.AddAsync([At(4, "a"), At(5, "d")], CancellationToken.None);
        await log.AddAsync([At(6, "e"), At(7, "e")], CancellationToken.None);

        Assert.Equal(["e", "d", "a"], (await log.ReadAsync(10, CancellationToken.None)).Select(r => r.Reject.Detail));
        var counts = await log.CountAsync(CancellationToken.None);
        Assert.Equal((6L, 1L), (counts[RejectReason.OutOfRange], counts[RejectReason.TooOld]));
    }

    [Fact]
    public async Task OneBatchOverTheLimit_IsCutToo()
    {
        var log = new SqliteRejectLog(database, keepDistinct: 5);
        await log.AddAsync([.. Enumerable.Range(0, 100).Select(i => At(i, $"{i}"))], CancellationToken.None);

        Assert.Equal(["99", "98", "97", "96", "95"], (await log.ReadAsync(10, CancellationToken.None)).Select(r => r.Reject.Detail));
        Assert.Equal(100, (await log.CountAsync(CancellationToken.None))[RejectReason.OutOfRange]);
    }

    [Fact]
    public void Limit_MustBePositive() => Assert.Throws<ArgumentOutOfRangeException>(() => new SqliteRejectLog(database, 0));

    [Fact]
    public async Task EveryReason_ComesBackByName()
    {
        var log = new SqliteRejectLog(database);
        await log.AddAsync([.. Enum.GetValues<RejectReason>().Select(r => At(1) with { Reason = r })], CancellationToken.None);

        Assert.Equal(Enum.GetValues<RejectReason>(), (await log.CountAsync(CancellationToken.None)).Keys.Order());
        Assert.Equal("WrongUnit", database.Run("SELECT reason FROM reject WHERE reason LIKE 'WrongU%'"));
    }

    [Fact]
    public async Task ReasonOfANewerProgram_IsSaid()
    {
        database.Run("INSERT INTO reject_count VALUES('FromTheFuture', 1, 0)");

        var e = await Assert.ThrowsAsync<DatabaseException>(() => new SqliteRejectLog(database).CountAsync(CancellationToken.None));

        Assert.Contains("FromTheFuture", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Cancelled_KeepsNothing()
    {
        var log = new SqliteRejectLog(database);

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => log.AddAsync([At(1)], new CancellationToken(canceled: true)));

        Assert.Empty(await log.CountAsync(CancellationToken.None));
    }

    [Fact]
    public async Task LockedByAnother_IsSaid()
    {
        var log = new SqliteRejectLog(SqliteDatabase.Open(folder.Path, SamplesSchema.Current, TimeSpan.FromMilliseconds(200)));
        using var other = database.Connect();
        using var transaction = other.BeginTransaction(deferred: false);

        var e = await Assert.ThrowsAsync<StoreUnavailableException>(() => log.AddAsync([At(1)], CancellationToken.None));

        Assert.IsType<SqliteException>(e.InnerException);
    }

    private static Reject At(long arrivedMs, string detail = "vacuum 900 kPa") =>
        new("fleet/T1/pump", arrivedMs, RejectReason.OutOfRange, detail, new byte[] { 1, 2, 3 });

    private static (string Topic, long ArrivedMs, RejectReason Reason, string Detail) Parts(Reject reject) =>
        (reject.Topic, reject.ArrivedMs, reject.Reason, reject.Detail);
}
