using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Reports.Tests.Rounds;

/// <summary>Rounds of an invented truck.</summary>
internal static class RoundStories
{
    private static readonly DateTimeOffset Now = new(2026, 3, 10, 15, 0, 0, TimeSpan.Zero);

    // Weekly was marked a fortnight ago, daily yesterday; today's start-up check was seen; the pump runs hot. All invented.
    public static TruckRounds Tell(DriveKind? drive, bool? deodoriser, string by, string? name = "Big Blue", string yard = "North yard")
    {
        var truck = new Truck
        {
            Id = "T1",
            Name = name,
            Yard = yard,
            PumpModel = "RV-400",
            PumpSerial = "S-1",
            PumpFitted = Now.AddDays(-400),
            MeterAtFittingH = 1000,
            TankVolume = Volume.FromLitres(12000),
            TimeZone = "America/Chicago",
            Drive = drive,
            Deodoriser = deodoriser,
        };
        var runs = Enumerable.Range(0, 45)
            .Select(i => Now.Date.AddDays(-44 + i))
            .Where(d => d.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday))
            .Select((d, i) => MakeRun(new DateTimeOffset(d.AddHours(8), TimeSpan.FromHours(d >= new DateTime(2026, 3, 8) ? -5 : -6)), 1000 + i))
            .ToList();
        ServiceRecord[] records =
        [
            new() { Truck = "T1", At = new DateTimeOffset(2026, 2, 23, 12, 0, 0, TimeSpan.Zero), MeterH = 0, Kind = ServiceKind.Round, Note = $"weekly; by {by}" },
            new() { Truck = "T1", At = new DateTimeOffset(2026, 3, 9, 12, 0, 0, TimeSpan.Zero), MeterH = 0, Kind = ServiceKind.Round, Note = $"daily; by {by}" },
        ];
        Finding[] findings =
        [
            new() { Id = "3fa9c01b7e", Truck = "T1", Kind = FindingKind.RunningHot, Urgency = Urgency.Week, Status = FindingStatus.Open, Since = Now.AddDays(-1), Evidence = [], Causes = [], Checks = [] },
        ];
        return new RoundPlanner(RoundTable.Default, new RoundOptions()).Plan(truck, records, runs, findings, Now);
    }

    private static Run MakeRun(DateTimeOffset start, double meterH) => new()
    {
        Truck = "T1",
        Start = start.ToUniversalTime(),
        End = start.ToUniversalTime().AddHours(1),
        HoursH = 1,
        MeterStartH = meterH,
        MeterEndH = meterH + 1,
        Quality = new RunQuality(100, 1, []),
        FirstPumpDown = new PumpDown
        {
            Start = start.ToUniversalTime().AddMinutes(2),
            IsStartUpCheck = true,
            FittedSamples = 40,
            PlateauKPa = 60,
            EndedAtRelief = true,
            UltimateKPa = 88,
            AmbientKPa = 101.325,
            ResidualKPa = 0.2,
            RatePerS = 0.02,
            FlowPerVolumePerS = 0.017,
            FlowPerVolumeSe = 0.0002,
            ReferenceVacuumKPa = 40,
            NetFlowPerVolumePerS = 0.016,
            NetFlowPerVolumeSe = 0.0002,
        },
    };
}
