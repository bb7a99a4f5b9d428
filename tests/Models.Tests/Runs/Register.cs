using NSubstitute;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Units;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

/// <summary>An invented truck and pump model for tests.</summary>
internal static class Register
{
    public static readonly DateTimeOffset Fitted = new(2026, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static readonly PumpModel Model = new()
    {
        Model = "RV400",
        RatedSpeed = RotationalSpeed.FromRpm(1200),
        MinSpeed = RotationalSpeed.FromRpm(1000),
        MaxSpeed = RotationalSpeed.FromRpm(1400),
        FreeAir = VolumeFlow.FromCubicFeetPerMinute(400),
        MaxVacuum = Pressure.FromInchesOfMercury(18),
        MaxPressure = Pressure.FromPsi(15),
        MaxTemperature = Temperature.FromCelsius(120),
        FlowKeptLimit = 0.75,
        ReliefVacuum = Pressure.FromKilopascals(61),
    };

    public static Truck Truck(string id = "T01") => new()
    {
        Id = id,
        Yard = "North",
        PumpModel = Model.Model,
        PumpSerial = "S1",
        PumpFitted = Fitted,
        MeterAtFittingH = 100,
        TankVolume = Volume.FromSi(11),
        TimeZone = "UTC",
    };

    public static RunContext Context(params ServiceRecord[] records) =>
        new(Truck(), records, new Dictionary<string, PumpModel>(StringComparer.Ordinal) { [Model.Model] = Model }, new RunSettings());

    public static IFleetRegister Of(params Truck[] trucks)
    {
        var register = Substitute.For<IFleetRegister>();
        register.Trucks().Returns(trucks);
        register.PumpModels().Returns([Model]);
        register.ServiceRecords(Arg.Any<string?>()).Returns([]);
        return register;
    }
}
