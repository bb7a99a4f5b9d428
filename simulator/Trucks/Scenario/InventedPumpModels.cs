using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Simulator.Physics;

namespace Vanehour.Simulator.Scenario;

/// <summary>Invented pump models. Names and numbers are of no maker; sizes follow common practice for air-cooled and liquid-cooled vane pumps.</summary>
internal static class InventedPumpModels
{
    /// <summary>Small, air-cooled.</summary>
    public static readonly PumpBuild Thistle230 = new(
        Model("Thistle 230", 1300, 1100, 1450, 230, 18, 15, 265, 0.34, 50, 44, 0.72, 17, 13.5),
        VaneLifeH: 1150,
        HeatRiseK: 57,
        TankGal: 2500);

    /// <summary>Middle, air-cooled.</summary>
    public static readonly PumpBuild Harrow310 = new(
        Model("Harrow 310", 1200, 1000, 1350, 310, 20, 16, 275, 0.42, 60, 53, 0.75, 18.5, 14.5),
        VaneLifeH: 1550,
        HeatRiseK: 60,
        TankGal: 3600);

    /// <summary>Large, liquid-cooled.</summary>
    public static readonly PumpBuild Bramble400 = new(
        Model("Bramble 400", 1100, 900, 1250, 400, 24, 18, 250, 0.5, 70, 61.5, 0.78, 21, 16.5),
        VaneLifeH: 2100,
        HeatRiseK: 50,
        TankGal: 5000);

    /// <summary>In truth the same as <see cref="Harrow310"/> under another name, so that a comparison has a pair that does not differ.</summary>
    public static readonly PumpBuild Juniper310 = Harrow310 with { Model = Harrow310.Model with { Model = "Juniper 310" } };

    /// <summary>The models of the first twelve trucks, in order of name.</summary>
    public static readonly IReadOnlyList<PumpBuild> Usual = [Bramble400, Harrow310, Thistle230];

    private static PumpModel Model(
        string name,
        double ratedRpm,
        double minRpm,
        double maxRpm,
        double freeAirCfm,
        double maxVacuumInHg,
        double maxPressurePsi,
        double maxTemperatureF,
        double oilQtPerH,
        double vaneNewMm,
        double vaneLimitMm,
        double flowKeptLimit,
        double reliefVacuumInHg,
        double reliefPressurePsi) => new()
        {
            Model = name,
            RatedSpeed = RotationalSpeed.FromRpm(ratedRpm),
            MinSpeed = RotationalSpeed.FromRpm(minRpm),
            MaxSpeed = RotationalSpeed.FromRpm(maxRpm),
            FreeAir = VolumeFlow.FromCubicFeetPerMinute(freeAirCfm),
            MaxVacuum = Pressure.FromInchesOfMercury(maxVacuumInHg),
            MaxPressure = Pressure.FromPsi(maxPressurePsi),
            MaxTemperature = Temperature.FromFahrenheit(maxTemperatureF),
            OilRate = VolumeFlow.FromSi(Unit.QuartPerHour.ToSi(oilQtPerH)),
            VaneWidthNew = Length.FromMillimetres(vaneNewMm),
            VaneWidthLimit = Length.FromMillimetres(vaneLimitMm),
            FlowKeptLimit = flowKeptLimit,
            ReliefVacuum = Pressure.FromInchesOfMercury(reliefVacuumInHg),
            ReliefPressure = Pressure.FromPsi(reliefPressurePsi),
        };
}
