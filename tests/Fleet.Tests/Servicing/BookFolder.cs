using Microsoft.Extensions.Time.Testing;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Servicing;
using Vanehour.Fleet.Sqlite;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Tests.Servicing;

/// <summary>A register with two invented trucks, T1 and T2, both fitted on 2026-01-05 at 1000 h, and its service book.</summary>
public sealed class BookFolder : IDisposable
{
    public static readonly DateTimeOffset Fitted = new(2026, 1, 5, 0, 0, 0, TimeSpan.Zero);

    private static readonly PumpModel Model = new()
    {
        Model = "Alder 400",
        RatedSpeed = RotationalSpeed.FromRpm(1200),
        MinSpeed = RotationalSpeed.FromRpm(1000),
        MaxSpeed = RotationalSpeed.FromRpm(1400),
        FreeAir = VolumeFlow.FromCubicFeetPerMinute(400),
        MaxVacuum = Pressure.FromInchesOfMercury(20),
        MaxPressure = Pressure.FromPsi(20),
        MaxTemperature = Temperature.FromCelsius(150),
        FlowKeptLimit = 0.75,
    };

    private readonly TemporaryFolder folder = new();

    public BookFolder()
    {
        Database = SqliteDatabase.Open(folder.Path, FleetSchema.Current);
        Register = new FleetRegister(Database, Time);
        Register.Upsert([Model], [Truck("T1"), Truck("T2")], []);
        Book = new ServiceBook(Register, Time);
    }

    public FakeTimeProvider Time { get; } = new(Fitted.AddDays(200));

    public SqliteDatabase Database { get; }

    public FleetRegister Register { get; }

    public ServiceBook Book { get; }

    /// <summary>A record of T1, so many days after fitting at 08:00, at a meter reading.</summary>
    public static ServiceRecord Record(ServiceKind kind, double day, double meterH) =>
        new() { Truck = "T1", At = Fitted.AddDays(day).AddHours(8), MeterH = meterH, Kind = kind };

    public void Dispose() => folder.Dispose();

    /// <summary>Adds what must be taken.</summary>
    public ServiceRecord Given(ServiceRecord record)
    {
        var outcome = Book.Add(record, "Ann");
        Assert.True(outcome.Kind == ServiceOutcomeKind.Done, outcome.Refusal);
        return outcome.After!;
    }

    private static Truck Truck(string id) => new()
    {
        Id = id,
        Yard = "North",
        PumpModel = Model.Model,
        PumpSerial = "S-" + id,
        PumpFitted = Fitted,
        MeterAtFittingH = 1000,
        TankVolume = Volume.FromLitres(11000),
        TimeZone = "Etc/UTC",
    };
}
