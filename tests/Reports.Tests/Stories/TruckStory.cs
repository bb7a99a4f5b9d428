using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Trucks;

namespace Vanehour.Reports.Tests.Stories;

/// <summary>
/// Tells the story of one truck as the results an analysis could have left. All numbers are invented; they are only as true as drawing needs.
/// </summary>
public sealed record TruckStory
{
    public static readonly DateTimeOffset DefaultAsOf = new(2026, 11, 25, 6, 0, 0, TimeSpan.Zero);

    public string Id { get; init; } = "T07";

    public string? Name { get; init; } = "Big Blue";

    public string Yard { get; init; } = "North yard";

    public string Zone { get; init; } = "America/Chicago";

    public int Seed { get; init; } = 7;

    public DateTimeOffset AsOf { get; init; } = DefaultAsOf;

    public double LifeDays { get; init; } = 420;

    /// <summary>Days of data before the fitting, on the pump before.</summary>
    public double DaysBefore { get; init; } = 40;

    public double WearPer1000H { get; init; } = 0.35;

    public double WearSpread { get; init; } = 0.2;

    public double ChecksADay { get; init; } = 0.7;

    public int MaxRunsADay { get; init; } = 3;

    public ForecastStatus Status { get; init; } = ForecastStatus.Forecast;

    /// <summary>Days before the end from which oil runs low.</summary>
    public double OilStarvedDays { get; init; }

    /// <summary>Days before the end from which the pump runs hot.</summary>
    public double HotDays { get; init; }

    /// <summary>Silent from so many days before the end, for so long.</summary>
    public (double From, double Length) Silence { get; init; }

    /// <summary>Days of life before the models judge.</summary>
    public double YoungDays { get; init; } = 30;

    public bool WithOil { get; init; } = true;

    public ImmutableArray<VaneWidth> VaneWidths { get; init; } = [];

    public ImmutableArray<Finding> Findings { get; init; } = [];

    public ImmutableArray<ServiceRecord> ExtraService { get; init; } = [];

    public DateTimeOffset Fitted => AsOf.AddDays(-LifeDays);

    public static PumpModel Model { get; } = new()
    {
        Model = "RV-400",
        RatedSpeed = RotationalSpeed.FromRpm(1200),
        MinSpeed = RotationalSpeed.FromRpm(1000),
        MaxSpeed = RotationalSpeed.FromRpm(1400),
        FreeAir = VolumeFlow.FromCubicFeetPerMinute(400),
        MaxVacuum = Pressure.FromInchesOfMercury(18),
        MaxPressure = Pressure.FromPsi(15),
        MaxTemperature = Temperature.FromCelsius(160),
        FlowKeptLimit = 0.72,
        ReliefVacuum = Pressure.FromInchesOfMercury(16),
    };

    public static Finding Finding(string truck, FindingKind kind, Urgency urgency, DateTimeOffset since, Cause cause, FindingStatus status = FindingStatus.Open) => new()
    {
        Id = $"{truck}-{kind}",
        Truck = truck,
        Kind = kind,
        Urgency = urgency,
        Status = status,
        Since = since,
        Evidence = [],
        Causes = [new RankedCause(cause, 0.62), new RankedCause(Cause.SensorWrong, 0.38)],
        Checks = [],
    };

    public Truck Truck() => new()
    {
        Id = Id,
        Name = Name,
        Yard = Yard,
        PumpModel = Model.Model,
        PumpSerial = "RV4-10233",
        PumpFitted = Fitted.AddDays(-400),
        MeterAtFittingH = 1200,
        TankVolume = Volume.FromGallons(3000),
        TimeZone = Zone,
    };

    public TruckReportData Tell()
    {
        var random = new Random(Seed);
        var runs = new List<Run>();
        var oil = new List<IndicatorPoint>();
        var rise = new List<IndicatorPoint>();
        var checks = new List<WearObservation>();
        var meter = 2900.0;
        var meterAtFitting = meter;
        for (var day = AsOf.AddDays(-LifeDays - DaysBefore); day < AsOf.AddDays(-0.3); day = day.AddDays(1))
        {
            var fresh = day >= Fitted;
            if (!fresh)
            {
                meterAtFitting = meter;
            }

            var ago = (AsOf - day).TotalDays;
            var silent = ago <= Silence.From && ago > Silence.From - Silence.Length;
            if (silent || day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday)
            {
                continue;
            }

            var start = day.AddHours(1);
            for (var i = random.Next(1, MaxRunsADay + 1); i > 0; i--)
            {
                var hours = 0.6 + (random.NextDouble() * 2);
                meter += hours;
                var since = fresh ? meter - meterAtFitting : meter - 1200;
                var wear = since / 1000 * WearPer1000H;
                var wantedOil = 0.32 + (0.05 * Math.Sin(ago / 40));
                var oilRate = (wantedOil * (1 + (0.11 * Normal(random)))) - (ago < OilStarvedDays ? 0.16 * (1 - (ago / OilStarvedDays)) : 0);
                var wantedRise = 62 + (8 * Math.Sin(ago / 60));
                var warm = wantedRise + (4 * Normal(random)) + (ago < HotDays ? 30 * (1 - (ago / HotDays)) : 0);
                var young = fresh && (day - Fitted).TotalDays < YoungDays;
                PumpDown? fit = null;
                if (i == 1 && random.NextDouble() < ChecksADay)
                {
                    fit = Fit(start, random, wear);
                    if (fresh)
                    {
                        checks.Add(Check(start, since, wear, random, fit));
                    }
                }

                var end = start.AddHours(hours);
                runs.Add(new Run
                {
                    Truck = Id,
                    Start = start,
                    End = end,
                    HoursH = hours,
                    MeterStartH = meter - hours,
                    MeterEndH = meter,
                    TempRiseK = warm,
                    OilUsedL = WithOil ? oilRate * hours : null,
                    Quality = new RunQuality(500, 1, []),
                    FirstPumpDown = fit,
                });
                if (WithOil)
                {
                    oil.Add(Point(end, since, hours, oilRate, wantedOil, 0.07, young));
                }

                rise.Add(Point(end, since, hours, warm, wantedRise, 8, young));
                start = end.AddHours(0.5);
            }
        }

        return new TruckReportData
        {
            Truck = Truck(),
            AsOf = AsOf,
            Model = Model,
            Runs = runs,
            Service = Service(meterAtFitting, meter),
            Wear = Forecast(meter - meterAtFitting, checks),
            OilUse = WithOil ? new IndicatorSeries { Truck = Id, Indicator = Indicator.OilUse, Level = 0.9, Points = [.. oil] } : null,
            TemperatureRise = new IndicatorSeries { Truck = Id, Indicator = Indicator.TemperatureRise, Level = 0.9, Points = [.. rise] },
            Findings = Findings,
        };
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static IndicatorPoint Point(DateTimeOffset at, double since, double hours, double seen, double wanted, double half, bool young) =>
        new(at, since, hours, seen, young ? null : wanted - half, young ? null : wanted, young ? null : wanted + half);

    private static PumpDown Fit(DateTimeOffset at, Random random, double wear)
    {
        var reaches = wear < 0.9 || random.NextDouble() < 0.4;
        return new PumpDown
        {
            Start = at,
            IsStartUpCheck = true,
            FittedSamples = 30,
            PlateauKPa = reaches ? 54 + (0.5 * Normal(random)) : 51 + Normal(random),
            EndedAtRelief = reaches,
            UltimateKPa = 70,
            RatePerS = 0.02,
            FlowPerVolumePerS = 0.02,
            FlowPerVolumeSe = 0.0003,
            ReferenceVacuumKPa = 40,
            NetFlowPerVolumePerS = 0.01,
            NetFlowPerVolumeSe = 0.0003,
            AmbientKPa = 99,
            ResidualKPa = 0.2,
        };
    }

    private static WearObservation Check(DateTimeOffset at, double since, double wear, Random random, PumpDown fit)
    {
        const double Se = 0.015;
        var kept = 1 - (wear * (1 - Model.FlowKeptLimit)) + (Se * Normal(random));
        return new WearObservation(
            at,
            since,
            kept,
            Se,
            (1 - kept) / (1 - Model.FlowKeptLimit),
            Se / (1 - Model.FlowKeptLimit),
            fit.PlateauKPa,
            fit.EndedAtRelief,
            22 / kept,
            since < 150);
    }

    private ImmutableArray<ServiceRecord> Service(double meterAtFitting, double meter)
    {
        ServiceRecord At(double share, ServiceKind kind, double? value = null, string? unit = null) => new()
        {
            At = Fitted.AddDays(LifeDays * share),
            Truck = Id,
            MeterH = meterAtFitting + ((meter - meterAtFitting) * share),
            Kind = kind,
            Value = value,
            Unit = unit,
        };
        return
        [
            .. new[]
            {
                At(0, ServiceKind.Rebuild),
                At(0.001, ServiceKind.ReliefVacuumSet, 16, "inHg"),
                At(0.3, ServiceKind.VaneWidth, 58.3, "mm"),
                At(0.31, ServiceKind.InletFilter),
                At(0.5, ServiceKind.OilFill, 4, "qt"),
                At(0.62, ServiceKind.Round),
                At(0.8, ServiceKind.VaneWidth, 55.1, "mm"),
                At(0.93, ServiceKind.Hose),
            }.Concat(ExtraService).OrderBy(r => r.At),
        ];
    }

    private WearForecast Forecast(double since, List<WearObservation> checks)
    {
        var blank = new WearForecast
        {
            Truck = Id,
            PumpSerial = "RV4-10233",
            PumpModel = Model.Model,
            AsOf = AsOf,
            HoursSinceFitting = since,
            Observations = checks.Count,
            Status = Status,
            FlowKeptLimit = Model.FlowKeptLimit,
            Checks = [.. checks],
            VaneWidths = VaneWidths,
            Fan = [],
            Remarks = [],
        };
        if (Status is ForecastStatus.NoChecks or ForecastStatus.TooFewChecks)
        {
            return blank;
        }

        var perDay = Math.Max(0.05, since / LifeDays);
        var perHour = WearPer1000H / 1000;
        var now = since * perHour;
        double? Hours(double factor) => Status == ForecastStatus.NotReached && factor > 0.9 ? null : Math.Max(0, (1 - now) / (perHour / factor));
        DateTimeOffset? Date(double? hours) => hours is { } h ? AsOf.AddDays(h / perDay) : null;
        var (p10, p50, p90) = (Hours(1 - WearSpread), Hours(1), Hours(1 + (1.4 * WearSpread)));
        return blank with
        {
            Wear = new LowMidHigh(now - 0.06, now, now + 0.06),
            HoursToLimit = new HourQuantiles(p10, p50, p90),
            DateOfLimit = new DateQuantiles(Date(p10), Date(p50), Date(p90)),
            WearPer1000H = WearPer1000H,
            WearPer1000HSe = WearPer1000H * 0.1,
            HoursPerDay = perDay,
            Fan = [.. Fan(since, perDay, perHour)],
            Remarks = Status == ForecastStatus.Provisional
                ? ["The baseline comes from the pump model, not yet from this pump.", "A vane-width measurement would narrow the date of the limit from 210 to 90 days."]
                : ["Two checks were set aside as too fast."],
        };
    }

    private IEnumerable<WearFanPoint> Fan(double since, double perDay, double perHour)
    {
        for (var i = 0; i <= 40; i++)
        {
            var hours = since * i / 40;
            var mid = hours * perHour;
            yield return new WearFanPoint(Fitted.AddDays(hours / perDay), hours, mid - 0.05, mid, mid + 0.05);
        }

        var horizon = Math.Max(200, (1.4 / perHour) - since);
        for (var i = 1; i <= 60; i++)
        {
            var ahead = horizon * i / 60;
            var mid = (since + ahead) * perHour;
            yield return new WearFanPoint(
                AsOf.AddDays(ahead / perDay),
                since + ahead,
                mid - 0.05 - (ahead * perHour * 1.1 * WearSpread),
                mid,
                mid + 0.05 + (ahead * perHour * 1.2 * WearSpread));
        }
    }
}
