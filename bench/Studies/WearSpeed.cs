using System.Diagnostics;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;
using Vanehour.Models.VaneWear;

namespace Vanehour.Bench;

/// <summary>How long a full refit of wear takes for many pumps with many checks each, made up without physics.</summary>
internal static class WearSpeed
{
    private static readonly DateTimeOffset Begin = new(2026, 1, 5, 8, 0, 0, TimeSpan.Zero);

    public static void Run(int pumps, int checks, TextWriter output)
    {
        var models = Enumerable.Range(1, 4).Select(m => new PumpModel
        {
            Model = $"Invented {m}",
            RatedSpeed = RotationalSpeed.FromRpm(1200),
            MinSpeed = RotationalSpeed.FromRpm(1000),
            MaxSpeed = RotationalSpeed.FromRpm(1350),
            FreeAir = VolumeFlow.FromSi(0.15),
            MaxVacuum = Pressure.FromInchesOfMercury(20),
            MaxPressure = Pressure.FromPsi(16),
            MaxTemperature = Temperature.FromFahrenheit(275),
            FlowKeptLimit = 0.75,
        }).ToList();
        var trucks = Enumerable.Range(1, pumps).Select(i => new Truck
        {
            Id = string.Create(CultureInfo.InvariantCulture, $"T{i:D4}"),
            Name = $"{i}",
            Yard = "Y",
            PumpModel = models[i % 4].Model,
            PumpSerial = $"P{i}",
            PumpFitted = Begin.AddDays(-1),
            MeterAtFittingH = 0,
            TankVolume = Volume.FromSi(12),
            TimeZone = "UTC",
        }).ToList();
        var runs = trucks.Select((t, i) => (t.Id, Runs: Runs(t, new Random(i), checks))).ToDictionary(r => r.Id, r => r.Runs, StringComparer.Ordinal);
        var data = FleetData.Build(models, trucks, [], id => runs[id], Begin.AddDays(checks + 1));
        var model = new FleetWear(new WearOptions());
        var seconds = new List<double>();
        for (var i = 0; i < 4; i++)
        {
            var watch = Stopwatch.StartNew();
            model.Forecast(data, 1, CancellationToken.None);
            seconds.Add(watch.Elapsed.TotalSeconds);
        }

        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{pumps} pumps x {checks} checks (net flow and tightness each), steps looked for, fleet fitted, all forecast: {string.Join(", ", seconds.Select(s => $"{s:F2}"))} s, median of the last three {Robust.Median(seconds.Skip(1)):F2} s on {Environment.ProcessorCount} cores; {GC.GetTotalMemory(true) / 1e6:F0} MB kept"));
    }

    private static List<Run> Runs(Truck truck, Random random, int checks)
    {
        var runs = new List<Run>();
        var meterH = 0.0;
        var rate = 0.0006 * Math.Exp(0.2 * Normal(random));
        var asNew = 0.0116 * Math.Exp(0.04 * Normal(random));
        for (var i = 0; i < checks; i++)
        {
            var kept = 1 - (0.25 * rate * meterH);
            var tight = 0.93 * kept * Math.Exp(0.008 * Normal(random));
            var net = asNew * kept * Math.Exp(0.012 * Normal(random));
            var start = Begin.AddDays(i);
            runs.Add(new Run
            {
                Truck = truck.Id,
                Start = start,
                End = start.AddHours(3),
                HoursH = 3,
                MeterStartH = meterH,
                MeterEndH = meterH + 3,
                AmbientMeanC = 12 + (10 * Math.Sin(i / 50.0)) + (3 * Normal(random)),
                Quality = new RunQuality(100, 1, []),
                FirstPumpDown = new PumpDown
                {
                    Start = start,
                    IsStartUpCheck = true,
                    FittedSamples = 30,
                    PlateauKPa = 60,
                    EndedAtRelief = true,
                    UltimateKPa = 90,
                    RatePerS = 0.012,
                    FlowPerVolumePerS = net / tight,
                    FlowPerVolumeSe = 0.0001,
                    LeakPerVolumePerS = net / tight * (1 - tight) / (40 / 61.325),
                    LeakPerVolumeSe = 0.0001,
                    ReferenceVacuumKPa = 40,
                    NetFlowPerVolumePerS = net,
                    NetFlowPerVolumeSe = 0.0001,
                    SpeedRpm = 1200,
                    AmbientKPa = 101.325,
                    ResidualKPa = 0.3,
                },
            });
            meterH += 3;
        }

        return runs;
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
