using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Models.Tests.Rounds;

/// <summary>A truck in Chicago that works Monday to Friday, one run of so many PTO hours a day from 8:00 on, with a start-up check where asked; invented.</summary>
internal sealed class RoundStory
{
    public const string Zone = "America/Chicago";

    private readonly List<ServiceRecord> _records = [];
    private readonly List<Run> _runs = [];
    private readonly TimeZoneInfo _zone;
    private double _meterH = 1000;

    public RoundStory(string zone = Zone)
    {
        _zone = TimeZoneInfo.FindSystemTimeZoneById(zone);
        Truck = new Truck
        {
            Id = "T1",
            Yard = "North",
            PumpModel = "RV-A",
            PumpSerial = "P-1",
            PumpFitted = Local(2026, 1, 1),
            MeterAtFittingH = 1000,
            TankVolume = Volume.FromLitres(12000),
            TimeZone = zone,
            Drive = DriveKind.Gearbox,
            Deodoriser = true,
        };
    }

    public Truck Truck { get; set; }

    public RoundOptions Options { get; init; } = new();

    public List<Finding> Findings { get; } = [];

    public IReadOnlyList<ServiceRecord> Records => _records;

    public IReadOnlyList<Run> Runs => _runs;

    public double MeterH => _meterH;

    /// <summary>An instant by the truck's own clock.</summary>
    public DateTimeOffset Local(int year, int month, int day, int hour = 0)
    {
        var local = new DateTime(year, month, day, hour, 0, 0, DateTimeKind.Unspecified);
        return new DateTimeOffset(local, _zone.GetUtcOffset(local)).ToUniversalTime();
    }

    /// <summary>Works from one day to another, both included, on weekdays.</summary>
    public RoundStory Works(DateOnly from, DateOnly to, double hoursADay = 4, bool withChecks = false)
    {
        for (var day = from; day <= to; day = day.AddDays(1))
        {
            if (day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday)
            {
                continue;
            }

            var start = Local(day.Year, day.Month, day.Day, 8);
            _runs.Add(new Run
            {
                Truck = Truck.Id,
                Start = start,
                End = start.AddHours(hoursADay),
                HoursH = hoursADay,
                MeterStartH = _meterH,
                MeterEndH = _meterH + hoursADay,
                Quality = new RunQuality(100, 1, []),
                FirstPumpDown = withChecks ? Check(start) : null,
            });
            _meterH += hoursADay;
        }

        return this;
    }

    public RoundStory Marks(string note, DateTimeOffset at, double meterH = 0) => Keep(ServiceKind.Round, at, meterH, note);

    public RoundStory Did(ServiceKind kind, DateTimeOffset at, double meterH = 0) => Keep(kind, at, meterH, null);

    public RoundStory Finds(FindingKind kind, DateTimeOffset since, FindingStatus status = FindingStatus.Open, string truck = "T1")
    {
        Findings.Add(new Finding
        {
            Id = $"{kind}",
            Truck = truck,
            Kind = kind,
            Urgency = Urgency.Week,
            Status = status,
            Since = since,
            Evidence = [],
            Causes = [],
            Checks = [],
        });
        return this;
    }

    public TruckRounds At(DateTimeOffset now) => new RoundPlanner(RoundTable.Default, Options).Plan(Truck, _records, _runs, Findings, now);

    public RoundItem Item(string check, DateTimeOffset now) => At(now).Items.Single(i => i.Check.Key == check);

    public Finding? Overdue(DateTimeOffset now, params Finding[] before) =>
        new RoundRule(Options, Knowledge.Default).Look(Truck, [.. _records.Where(r => r.At <= now)], _runs, now, before).SingleOrDefault();

    private RoundStory Keep(ServiceKind kind, DateTimeOffset at, double meterH, string? note)
    {
        _records.Add(new ServiceRecord { Truck = Truck.Id, At = at, MeterH = meterH, Kind = kind, Note = note });
        return this;
    }

    private static PumpDown Check(DateTimeOffset start) => new()
    {
        Start = start.AddMinutes(2),
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
    };
}
