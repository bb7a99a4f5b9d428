using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Analysis;

namespace Vanehour.Models.Tests.Synthetic;

/// <summary>
/// Runs of a made-up fleet with one pump model, as the run derivation would give them. Oil and temperature are linear in the conditions with normal
/// noise, and wear is a straight line: the models' own assumptions. Every value is invented.
/// </summary>
public sealed class SyntheticFleet(IReadOnlyList<SyntheticTruck> trucks, int days, int seed, int runsPerDay = 6, string modelName = "RV-A")
{
    public const double FlowKeptLimit = 0.72;
    public const double OilSdShare = 0.05;
    public const double HeatSdK = 2;

    /// <summary>A Monday.</summary>
    public static readonly DateTimeOffset Begin = new(2026, 1, 5, 0, 0, 0, TimeSpan.Zero);

    private readonly Dictionary<string, IReadOnlyList<Run>> _runs = trucks
        .Select((t, i) => (t.Id, Runs: (IReadOnlyList<Run>)Generate(t, days, new Random((seed * 1009) + i), runsPerDay)))
        .ToDictionary(t => t.Id, t => t.Runs, StringComparer.Ordinal);

    public PumpModel Model { get; } = new()
    {
        Model = modelName,
        RatedSpeed = RotationalSpeed.FromRpm(1200),
        MinSpeed = RotationalSpeed.FromRpm(1000),
        MaxSpeed = RotationalSpeed.FromRpm(1400),
        FreeAir = VolumeFlow.FromSi(0.2),
        MaxVacuum = Pressure.FromKilopascals(62),
        MaxPressure = Pressure.FromKilopascals(100),
        MaxTemperature = Temperature.FromCelsius(150),
        FlowKeptLimit = FlowKeptLimit,
        ReliefVacuum = Pressure.FromKilopascals(60),
    };

    public DateTimeOffset End { get; } = Begin.AddDays(days);

    public IReadOnlyList<Truck> Trucks => [.. trucks.Select(t => new Truck
    {
        Id = t.Id,
        Yard = "North",
        PumpModel = modelName,
        PumpSerial = "P-" + t.Id,
        PumpFitted = Begin.AddDays(-t.AgeAtStartH / 3),
        MeterAtFittingH = 1000,
        TankVolume = Volume.FromLitres(12000),
        TimeZone = "Etc/UTC",
    })];

    public IReadOnlyList<ServiceRecord> Records => [.. trucks.SelectMany(t => t.Records)];

    public IReadOnlyList<Run> RunsOf(string truck) => _runs[truck];

    public FleetData Data(DateTimeOffset? asOf = null) =>
        FleetData.Build([Model], Trucks, Records, RunsOf, asOf ?? End);

    private static List<Run> Generate(SyntheticTruck truck, int days, Random random, int runsPerDay)
    {
        var runs = new List<Run>();
        var meterH = 1000 + truck.AgeAtStartH;
        double oilNoise = 0, heatNoise = 0;
        for (var day = 0; day < days; day++)
        {
            if (day % 7 >= 5)
            {
                continue;
            }

            var ambientC = 10 + (10 * Math.Sin(day / 60.0)) + Normal.Sample(random, 0, 3);
            for (var r = 0; r < runsPerDay; r++)
            {
                var start = Begin.AddDays(day).AddHours(7 + (r * 1.6));
                var hours = 0.3 + (0.9 * random.NextDouble());
                var vacuum = Normal.Sample(random, 45, 5);
                var speed = Normal.Sample(random, 1180, 25);
                var fresh = Math.Sqrt(1 - (truck.NoiseRho * truck.NoiseRho));
                oilNoise = (truck.NoiseRho * oilNoise) + (fresh * Normal.Sample(random, 0, 1));
                heatNoise = (truck.NoiseRho * heatNoise) + (fresh * Normal.Sample(random, 0, 1));
                var heat = 40 + (0.6 * (vacuum - 45)) + (0.03 * (speed - 1180)) - (0.1 * (ambientC - 10)) + (3 * Math.Log(hours)) + truck.WarmerK;
                var rise = heat + truck.HeatFault(day) + (HeatSdK * heatNoise / Math.Sqrt(hours / (hours + 0.5)));
                var rate = truck.OilFactor * truck.OilFault(day)
                    * (0.5 + (0.004 * (vacuum - 45)) + (0.0004 * (speed - 1180)) + (0.002 * (ambientC - 10)));
                var oil = hours * (rate + (0.5 * OilSdShare * truck.OilNoiseFactor * oilNoise / Math.Sqrt(hours)));
                runs.Add(new Run
                {
                    Truck = truck.Id,
                    Start = start,
                    End = start.AddHours(hours),
                    HoursH = hours,
                    MeterStartH = meterH,
                    MeterEndH = meterH + hours,
                    VacuumMeanKPa = vacuum,
                    VacuumMaxKPa = vacuum + 10,
                    MinutesAboveVacuumLimit = truck.HeldMinutes(day),
                    PressureMaxKPa = truck.PressureKPa(day),
                    PumpTempMeanC = ambientC + rise,
                    PumpTempMaxC = ambientC + rise + 8,
                    AmbientMeanC = ambientC,
                    TempRiseK = rise,
                    SpeedMeanRpm = truck.HasSpeed ? speed : null,
                    SpeedOutsideShare = truck.HasSpeed ? truck.SpeedOutside(day) : null,
                    OilUsedL = oil,
                    BaroKPa = 101.325,
                    Quality = new RunQuality((int)(hours * 360), 0.98, []),
                    FirstPumpDown = r == 0 ? Check(truck, start, meterH - 1000, day, random) : null,
                });
                meterH += hours;
            }
        }

        return runs;
    }

    private static PumpDown Check(SyntheticTruck truck, DateTimeOffset start, double hoursH, double day, Random random)
    {
        var asNew = truck.FlowFactor * 0.2 / 12;
        var worn = asNew * (1 - ((1 - FlowKeptLimit) * truck.WearPer1000H * hoursH / 1000));

        // Net flow is S - C v_r/(p_a - v_r): a new pump leaks back a twentieth; wear and leaks add to C, what is in the way takes from S.
        const double leverage = 40 / (101.325 - 40);
        var displaced = asNew * (1.05 - truck.BlockageFault(day));
        var leak = ((asNew * (1.05 + truck.LeakFault(day))) - worn) / leverage;
        var flow = (displaced - (leak * leverage)) * (1 + Normal.Sample(random, 0, 0.015));
        return new PumpDown
        {
            Start = start.AddMinutes(1),
            IsStartUpCheck = true,
            FittedSamples = 40,
            PlateauKPa = truck.ReliefKPa + truck.ReliefFault(day) + Normal.Sample(random, 0, 0.3),
            EndedAtRelief = true,
            UltimateKPa = 88,
            RatePerS = flow * 1.1,
            FlowPerVolumePerS = displaced,
            FlowPerVolumeSe = flow * 0.01,
            LeakPerVolumePerS = leak,
            LeakPerVolumeSe = flow * 0.01,
            LeakRatio = leak / displaced,
            FlowLeakCovariance = 0,
            ReferenceVacuumKPa = 40,
            NetFlowPerVolumePerS = flow,
            NetFlowPerVolumeSe = flow * 0.01,
            SpeedRpm = 1200,
            AmbientKPa = 101.325,
            ResidualKPa = 0.3,
            WatchTime5To12InHgS = 40,
        };
    }
}
