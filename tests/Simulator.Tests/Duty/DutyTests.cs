using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests.Duty;

public class DutyTests
{
    private static readonly SimulatedFleet Fleet = Fleets.Demonstration.Value;

    [Fact]
    public void Trucks_WorkByLocalDayOnBothSidesOfTheClockChange()
    {
        foreach (var truck in Fleet.Trucks)
        {
            var zone = TimeZoneInfo.FindSystemTimeZoneById(truck.TimeZone);
            var starts = new Dictionary<bool, List<double>> { [false] = [], [true] = [] };
            DateTime? day = null;
            foreach (var sample in Fleets.DemonstrationSamples(truck.Id))
            {
                var local = TimeZoneInfo.ConvertTime(sample.At, zone);
                Assert.NotEqual(DayOfWeek.Sunday, local.DayOfWeek);
                Assert.InRange(local.TimeOfDay.TotalHours, 5.5, 21);
                if (day != local.Date)
                {
                    day = local.Date;
                    starts[zone.IsDaylightSavingTime(local)].Add(local.TimeOfDay.TotalHours);
                }
            }

            // A start that followed UTC would move by an hour.
            Assert.Equal(starts[false].Average(), starts[true].Average(), 0.1);
            Assert.InRange(starts[false].Count + starts[true].Count, 110, 160);
        }
    }

    [Fact]
    public void HourMeter_IsTheTimeEngaged()
    {
        foreach (var plan in Fleet.Plans.Where(p => p.Sensors[Signal.Pto] is not null))
        {
            var engagedS = 0.0;
            double? first = null;
            double last = 0;
            Sample? before = null;
            foreach (var sample in Fleets.DemonstrationSamples(plan.Truck.Id))
            {
                if (before is { } b && b[Signal.Pto] == 1)
                {
                    engagedS += (sample.At - b.At).TotalSeconds;
                }

                first ??= sample[Signal.PtoHours];
                last = sample[Signal.PtoHours] ?? last;
                before = sample;
            }

            // The meter shows completed hundredths, so a difference is off by up to one of them.
            Assert.Equal(engagedS / 3600, last - first!.Value, 0.0101);
            Assert.InRange(engagedS / 3600, 350, 650);
        }
    }

    [Fact]
    public void Service_ReadsTheSameMeterAsTheSamples()
    {
        var rebuild = Fleet.ServiceRecords.Single(r => r.Kind == ServiceKind.Rebuild);
        var before = Fleets.DemonstrationSamples(rebuild.Truck).Last(s => s.At < rebuild.At && s[Signal.PtoHours] is not null);
        Assert.Equal(before[Signal.PtoHours]!.Value, rebuild.MeterH, 0.0101);
    }

    [Fact]
    public void StartUpChecks_AreFrequentAndDenselySampled()
    {
        foreach (var truck in Fleet.Trucks)
        {
            var checks = Rises.StartUpChecks(Fleets.DemonstrationSamples(truck.Id)).ToList();
            Assert.InRange(checks.Count, 85, 145);

            // A few checks are made with liquid left in the tank; those are quicker and hold fewer samples.
            Assert.True(checks.Count(c => c.SamplesBelowPlateau >= 12) >= 0.94 * checks.Count);
            Assert.True(checks.All(c => c.SamplesBelowPlateau >= 7));
        }
    }

    [Fact]
    public void Samples_AreNeverDenserThanTenSecondsButWhileTheVacuumRises()
    {
        var fleet = Fleets.Month.Value;
        foreach (var plan in fleet.Plans)
        {
            var close = 0;
            var all = 0;
            Sample? before = null;
            foreach (var sample in fleet.Samples(plan.Truck.Id))
            {
                all++;
                if (before is { } b && sample.At - b.At < TimeSpan.FromSeconds(10))
                {
                    close++;
                    Assert.Equal(fleet.Options.PumpDownIntervalS, (sample.At - b.At).TotalSeconds);
                    Assert.NotEqual(0, sample[Signal.Pto]);

                    // Rising, or on the plateau, where the gauge's noise may go either way; under vacuum or, to off-load, under pressure.
                    var gauge = sample[Signal.Vacuum] is null ? Signal.Pressure : Signal.Vacuum;
                    Assert.True(b[gauge] is null || sample[gauge] > b[gauge] - 1.6);
                    Assert.Equal(plan.Sensors[Signal.PumpSpeed] is not null, sample[Signal.PumpSpeed] is not null);
                }

                before = sample;
            }

            // Worn pumps at the high yard rise for minutes and so have the most.
            Assert.InRange(close / (double)all, 0.05, 0.5);
        }
    }

    [Fact]
    public void OilLevel_FallsByDayAndIsRefilledByNight()
    {
        foreach (var plan in Fleets.Month.Value.Plans.Where(p => p.Sensors[Signal.OilLevel] is not null))
        {
            var levels = Fleets.Month.Value.Samples(plan.Truck.Id).Where(s => s[Signal.OilLevel] is not null)
                .GroupBy(s => s.At.AddHours(-8).Date).Select(g => (First: g.First()[Signal.OilLevel]!.Value, Last: g.Last()[Signal.OilLevel]!.Value)).ToList();
            Assert.All(levels, d => Assert.Equal(14, d.First, 0.2));
            Assert.All(levels, d => Assert.InRange(d.First - d.Last, 0.3, 4));
        }
    }
}
