using FsCheck.Xunit;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Servicing;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Fleet.Tests.Servicing;

public sealed class ServiceBookTests : IDisposable
{
    private readonly BookFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void AddEditDelete_StandInTheHistory()
    {
        var added = folder.Given(BookFolder.Record(ServiceKind.Flush, 10, 1050));
        Assert.Matches("^[0-9a-f]{10}$", added.RecordId);
        folder.Time.Advance(TimeSpan.FromHours(1));
        var edited = folder.Book.Edit(added.RecordId![..4], r => r with { At = r.At.AddDays(1), Note = "hot" }, "Bo", "wrong day").After!;
        Assert.Equal(added.RecordId, edited.RecordId);
        folder.Book.Delete(added.RecordId, "Cy");

        Assert.Empty(folder.Register.ServiceRecords());
        var history = folder.Book.History("T1");
        Assert.Equal(
            [(ServiceChangeKind.Added, "Ann", null), (ServiceChangeKind.Changed, "Bo", "wrong day"), (ServiceChangeKind.Deleted, "Cy", null)],
            history.Select(c => (c.Action, c.By, c.Why)));
        Assert.Equal([null, added, edited], history.Select(c => c.Before));
        Assert.Equal([added, edited, null], history.Select(c => c.After));
        Assert.Equal(TimeSpan.FromHours(1), history[1].At - history[0].At);
        Assert.Empty(folder.Book.History("T2"));
    }

    [Fact]
    public void AKeylessRecord_KeepsItsRow_UntilItsKeyChanges()
    {
        folder.Register.Upsert([], [], [BookFolder.Record(ServiceKind.Flush, 10, 1050)]);
        var id = ServiceId.Of(Assert.Single(folder.Register.ServiceRecords()));
        Assert.Equal(id, ServiceId.Of(folder.Book.Edit(id, r => r with { Note = "hot" }, null).After!));
        var moved = folder.Book.Edit(id, r => r with { MeterH = 1051 }, null).After!;

        Assert.NotEqual(id, ServiceId.Of(moved));
        Assert.Equal([moved], folder.Register.ServiceRecords());
        Assert.Equal([ServiceChangeKind.Added, ServiceChangeKind.Changed, ServiceChangeKind.Changed], folder.Book.History().Select(c => c.Action));
    }

    [Fact]
    public void ARecordMovedToAnotherTruck_IsInTheHistoryOfBoth()
    {
        var added = folder.Given(BookFolder.Record(ServiceKind.Flush, 10, 1050));
        folder.Book.Edit(added.RecordId!, r => r with { Truck = "T2" }, null);
        Assert.Equal(2, folder.Book.History("T1").Count);
        Assert.Single(folder.Book.History("T2"));
        Assert.Equal("T2", Assert.Single(folder.Register.ServiceRecords()).Truck);
    }

    [Fact]
    public void WhatIsSaidAlready_IsNotWritten()
    {
        var added = folder.Given(BookFolder.Record(ServiceKind.Flush, 10, 1050));
        Assert.Equal((ServiceOutcomeKind.Unchanged, added), Brief(folder.Book.Add(BookFolder.Record(ServiceKind.Flush, 10, 1050), "Bo")));
        Assert.Equal((ServiceOutcomeKind.Unchanged, added), Brief(folder.Book.Edit(added.RecordId!, r => r, "Bo")));
        folder.Register.Upsert([], [], [added]);
        Assert.Single(folder.Book.History());
    }

    [Fact]
    public void Ids_ExactBeforePrefix_AndAmbiguousOnesAreNamed()
    {
        folder.Given(BookFolder.Record(ServiceKind.Flush, 10, 1050) with { RecordId = "A-1" });
        folder.Given(BookFolder.Record(ServiceKind.Hose, 11, 1050) with { RecordId = "A-12" });
        Assert.Equal(ServiceOutcomeKind.Unchanged, folder.Book.Edit("A-1", r => r, null).Kind);
        Assert.Equal("A-12", folder.Book.Edit("a-12", r => r, null).After!.RecordId);
        Assert.Equal((ServiceOutcomeKind.Ambiguous, "2 records begin with a-: A-1, A-12; give more of it."), Said(folder.Book.Delete("a-", null)));
        Assert.Equal(ServiceOutcomeKind.NotFound, folder.Book.Delete("B", null).Kind);
        Assert.Equal(ServiceOutcomeKind.NotFound, folder.Book.Delete(string.Empty, null).Kind);
        Assert.Equal(ServiceOutcomeKind.Refused, folder.Book.Add(BookFolder.Record(ServiceKind.Hose, 12, 1060) with { RecordId = "A-1" }, null).Kind);
    }

    [Fact]
    public void TheHistory_CannotBeChanged()
    {
        folder.Given(BookFolder.Record(ServiceKind.Flush, 10, 1050));
        foreach (var sql in (string[])["UPDATE service_change SET by = 'Z'", "DELETE FROM service_change"])
        {
            using var connection = folder.Database.Connect();
            using var command = connection.CreateCommand();
            command.CommandText = sql;
            Assert.Contains("never", Assert.Throws<SqliteException>(() => command.ExecuteNonQuery()).Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void ARegisterOfTheVersionBefore_KeepsItsRecords()
    {
        using var old = new TemporaryFolder();
        var before = FleetSchema.Current with { Migrations = FleetSchema.Current.Migrations[..2] };
        using (var connection = SqliteDatabase.Open(old.Path, before).Connect())
        {
            using var command = connection.CreateCommand();
            command.CommandText =
                """
                INSERT INTO pump_model VALUES('M', '{}');
                INSERT INTO truck VALUES('T1', 'North', 'M', '{}');
                INSERT INTO service_record VALUES('id:r1', 'T1', 0, 'flush', '{"record_id":"r1","at":"1970-01-01T00:00:00+00:00","truck":"T1","meter_h":5,"kind":"Flush"}');
                """;
            command.ExecuteNonQuery();
        }

        SqliteConnection.ClearAllPools();
        var register = new FleetRegister(SqliteDatabase.Open(old.Path, FleetSchema.Current));
        Assert.Equal("r1", Assert.Single(register.ServiceRecords()).RecordId);
        Assert.Empty(new ServiceBook(register, TimeProvider.System).History());
    }

    [Property(MaxTest = 25)]
    public void TheHistoryReplayed_IsTheRegister((byte What, byte Which, byte Day)[] steps)
    {
        ArgumentNullException.ThrowIfNull(steps);
        using var own = new BookFolder();
        foreach (var (what, which, day) in steps)
        {
            var records = own.Register.ServiceRecords();
            var kind = (ServiceKind[])[ServiceKind.Flush, ServiceKind.Rebuild, ServiceKind.Removed, ServiceKind.Hose];
            var record = BookFolder.Record(kind[which % 4], day % 100, 1000 + (day % 100 * 5));
            var id = records.Count == 0 ? "none" : ServiceId.Of(records[which % records.Count]);
            own.Time.Advance(TimeSpan.FromMinutes(1));
            switch (what % 4)
            {
                case 0:
                    own.Book.Add(record, "Ann");
                    break;
                case 1:
                    own.Book.Edit(id, r => r with { At = record.At, MeterH = record.MeterH }, "Bo");
                    break;
                case 2:
                    own.Book.Delete(id, "Cy");
                    break;
                default:
                    own.Register.Upsert([], [], [record]);
                    break;
            }
        }

        var replayed = new Dictionary<string, ServiceRecord>(StringComparer.Ordinal);
        foreach (var change in own.Book.History())
        {
            if (change.Before is { } before)
            {
                Assert.True(replayed.Remove(FleetRegister.KeyOf(before), out var was) && was == before);
            }

            if (change.After is { } after)
            {
                Assert.True(replayed.TryAdd(FleetRegister.KeyOf(after), after));
                Assert.Equal(change.Key, FleetRegister.KeyOf(after));
            }
        }

        Assert.Equal(
            own.Register.ServiceRecords().OrderBy(FleetRegister.KeyOf, StringComparer.Ordinal),
            replayed.Values.OrderBy(FleetRegister.KeyOf, StringComparer.Ordinal));
    }

    private static (ServiceOutcomeKind Kind, ServiceRecord? After) Brief(ServiceOutcome outcome) => (outcome.Kind, outcome.After);

    private static (ServiceOutcomeKind Kind, string? Refusal) Said(ServiceOutcome outcome) => (outcome.Kind, outcome.Refusal);
}
