using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Servicing;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models.Analysis;
using Vanehour.Models.Tests.Synthetic;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.Analysis;

/// <summary>A rebuild is recorded, and taken back, between analyses.</summary>
public sealed class RecordedRebuildTests : IDisposable
{
    private const int Day = 100;

    private readonly string folder = Directory.CreateTempSubdirectory("vanehour-rebuild-").FullName;

    public void Dispose()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public void TheNextAnalysis_StartsALife_AndWithTheRecordGoneHasTheFormerBack()
    {
        var fleet = new SyntheticFleet([.. Enumerable.Range(1, 4).Select(i => new SyntheticTruck { Id = $"T{i}", WearPer1000H = 0.9, AgeAtStartH = 300 })], Day, 17);
        var register = new FleetRegister(SqliteDatabase.Open(folder, FleetSchema.Current));
        register.Upsert([fleet.Model], fleet.Trucks, []);
        var book = new ServiceBook(register, new FakeTimeProvider(fleet.End));
        var before = Wear(fleet, register);
        var run = fleet.RunsOf("T2").Last(r => r.End < SyntheticFleet.Begin.AddDays(Day / 2));

        var added = book.Add(new ServiceRecord { Truck = "T2", Kind = ServiceKind.Rebuild, At = run.End.AddMinutes(1), MeterH = run.MeterEndH!.Value }, "Ann");
        Assert.True(added.Kind == ServiceOutcomeKind.Done, added.Refusal);
        var rebuilt = Wear(fleet, register);

        Assert.Equal(fleet.RunsOf("T2").Where(r => r.Start > run.End).Sum(r => r.HoursH), rebuilt.HoursSinceFitting, 0.1);
        Assert.True(rebuilt.HoursSinceFitting < before.HoursSinceFitting - 300);
        Assert.True(rebuilt.Wear!.Mid < before.Wear!.Mid - 0.1, $"{rebuilt.Wear.Mid} after {before.Wear.Mid}");

        book.Delete(added.After!.RecordId!, "Ann");
        var again = Wear(fleet, register);
        Assert.Equal((before.HoursSinceFitting, before.Wear.Mid), (again.HoursSinceFitting, again.Wear!.Mid));
    }

    private static WearForecast Wear(SyntheticFleet fleet, FleetRegister register)
    {
        var stores = new MemoryStores(fleet);
        return new FleetAnalysis(register, stores, stores, stores, new AnalysisOptions()).Analyse(fleet.End, null, CancellationToken.None).Wear.Single(w => w.Truck == "T2");
    }
}
