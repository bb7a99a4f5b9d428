using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Scenario;

/// <summary>Draws up the trucks of a fleet from its options.</summary>
internal static class FleetPlan
{
    public static ImmutableArray<TruckPlan> Build(SimulationOptions options)
    {
        var trucks = ImmutableArray.CreateBuilder<TruckPlan>(options.Trucks);
        for (var i = 0; i < options.Trucks; i++)
        {
            trucks.Add(Build(i, options));
        }

        return trucks.MoveToImmutable();
    }

    private static TruckPlan Build(int index, SimulationOptions options)
    {
        var slotNumber = index % ScenarioSlot.Pattern.Count;
        var round = index / ScenarioSlot.Pattern.Count;
        var slot = ScenarioSlot.Pattern[slotNumber];
        if (round % 2 == 1 && slot.Build == InventedPumpModels.Harrow310)
        {
            slot = slot with { Build = InventedPumpModels.Juniper310 };
        }

        var planted = options.Planted is { } one && one.Truck == index ? one : null;
        var role = planted is { Cause: Cause.VanesWorn } ? TruckRole.NearLimitSoon
            : options.Faults is FaultScenario.None or FaultScenario.Drift ? InHealth(slot.Role) : slot.Role;
        var random = SeededRandom.For(options.Seed, index, RandomStream.Identity);
        var id = string.Create(CultureInfo.InvariantCulture, $"T{index + 1:D2}");

        var traits = new PumpTraits
        {
            SpeedFactor = random.Uniform(0.97, 1.03),
            FlowFactor = random.Factor(PumpTraits.FlowSd),
            VolumeFactor = 1.02 * random.Factor(0.03),
            OilFactor = random.Factor(PumpTraits.OilSd),
            HeatFactor = random.Factor(PumpTraits.HeatSd),
            ReliefOffsetKPa = Math.Clamp(0.6 * random.Normal(), -1.5, 1.5),
            GasWarmingS = random.Uniform(20, 60),
        };
        var crew = CrewHabits.Draw(random, (JobKind)(index % 4)) with { LateRecordChance = round == 0 ? 0 : 0.1 };
        var wearFactor = random.Factor(role is TruckRole.NearLimitSoon or TruckRole.NearLimitLater or TruckRole.Rebuilt ? 0.04 : 0.1);
        var lifeH = VaneWearLaw.HoursTo(1, slot.Build.VaneLifeH / wearFactor) / traits.SpeedFactor;
        var days = options.From.AddMonths(options.Months).DayNumber - options.From.DayNumber;
        DateOnly? rebuildOn = role == TruckRole.Rebuilt ? SundayNear(options.From, days / 3, days) : null;
        var ageH = AgeH(role, lifeH, crew.HoursPerWeek, days, rebuildOn is { } r ? r.DayNumber - options.From.DayNumber : 0, random);
        var fitted = options.From.AddDays(-1 - (int)Math.Min(7 * ageH / crew.HoursPerWeek, options.From.DayNumber - 1000));
        var meterAtFittingH = Math.Round(random.Uniform(400, 6500), 1);
        var serial = string.Create(CultureInfo.InvariantCulture, $"{slot.Build.Model.Model[..2].ToUpperInvariant()}-{random.Whole(20000, 89999)}");
        var tankGal = slot.Build.TankGal + (100 * random.Whole(-1, 2));

        var fittedAt = slot.Yard.At(fitted, 0);
        var past = PastLives.Before(fittedAt, meterAtFittingH, id, slot, crew, traits.SpeedFactor, options, index);

        var plan = new TruckPlan
        {
            Index = index,
            Role = role,
            Yard = slot.Yard,
            Build = slot.Build,
            Traits = traits,
            Crew = crew,
            Sensors = SensorSet.Fit(index, slotNumber, random),
            AgeH = ageH,
            OilUsedAtStartL = Math.Round(random.Uniform(50, 900), 3),
            FirstLifeWearFactor = wearFactor,
            RebuildOn = rebuildOn,
            CurrentFittedAt = past.Records.IsEmpty ? fittedAt : past.Records[^1].At,
            CurrentMeterAtFittingH = past.MeterNowH,
            SwapsPumps = round > 0 && index % 5 == 3,
            PastRecords = past.Records,
            VaneWidthOn = slot.VanesMeasured
                ? [SundayNear(options.From, days / 5, days), SundayNear(options.From, days * 3 / 4, days)]
                : [],
            Faults = options.Faults switch
            {
                FaultScenario.Default => Faults(role, slotNumber, round, slot.Yard, options.From, days, random),
                FaultScenario.None when planted is not null and not { Cause: Cause.VanesWorn } => [Planted(planted, slot.Yard, options.From)],
                FaultScenario.Drift when index % 2 == 1 => [FastWear(slot.Yard, options.From, days, random)],
                _ => [],
            },
            Truck = new Truck
            {
                Id = id,
                Name = round == 0 ? ScenarioSlot.Names[slotNumber] : FormattableString.Invariant($"{ScenarioSlot.Names[slotNumber]} {round + 1}"),
                Yard = slot.Yard.Name,
                PumpModel = slot.Build.Model.Model,
                PumpSerial = serial,
                PumpFitted = past.FirstFittedAt,
                MeterAtFittingH = past.FirstMeterH,
                TankVolume = Volume.FromGallons(tankGal),
                Elevation = Length.FromMetres(slot.Yard.ElevationM),
                TimeZone = slot.Yard.TimeZone,
                Drive = (DriveKind)(index % 3),
                Deodoriser = index % 4 == 0,
            },
        };
        return options.Dirt > 0 && slotNumber == MeterNearEndPlace ? WithMeterNearEnd(plan, crew.HoursPerWeek * days / 7) : plan;
    }

    // With dirt, the trucks of this place (healthy, so that nothing else is odd) come with a meter that rolls over half way through the time simulated.
    private const int MeterNearEndPlace = 8;

    private static TruckPlan WithMeterNearEnd(TruckPlan plan, double wholeH)
    {
        var moreH = Math.Round(GatewayRates.MeterTurnsAtH - (0.5 * wholeH) - plan.MeterAtStartH, 1);
        return plan.Truck.MeterAtFittingH + moreH < 0 ? plan : plan with
        {
            CurrentMeterAtFittingH = plan.CurrentMeterAtFittingH + moreH,
            PastRecords = [.. plan.PastRecords.Select(r => r with { MeterH = r.MeterH + moreH })],
            Truck = plan.Truck with { MeterAtFittingH = plan.Truck.MeterAtFittingH + moreH },
        };
    }

    private static TruckRole InHealth(TruckRole role) => role switch
    {
        TruckRole.HealthyFresh or TruckRole.Rebuilt => role,
        TruckRole.OilStarved or TruckRole.Leaking => TruckRole.HealthyFresh,
        _ => TruckRole.HealthyMidLife,
    };

    /// <summary>PTO hours since fitting at the beginning, so that the role plays out inside or after the time simulated.</summary>
    private static double AgeH(TruckRole role, double lifeH, double hoursPerWeek, int days, int rebuildDay, SeededRandom random)
    {
        var wholeH = hoursPerWeek * days / 7;
        return role switch
        {
            TruckRole.HealthyFresh or TruckRole.OilStarved or TruckRole.Leaking => 0,
            TruckRole.NearLimitSoon => BeforeLimit(wholeH + (hoursPerWeek * random.Uniform(6, 9))),
            TruckRole.NearLimitLater => BeforeLimit(wholeH + (hoursPerWeek * random.Uniform(13, 17))),
            TruckRole.Rebuilt => BeforeLimit((hoursPerWeek * rebuildDay / 7) + (0.05 * lifeH)),
            _ => Math.Max(0, Math.Min(lifeH * random.Uniform(0.2, 0.45), (0.65 * lifeH) - wholeH)),
        };

        // A time longer than a life holds whole lives, each ended by the rebuild that the shop makes when the vanes are due.
        double BeforeLimit(double leftH) => lifeH - (leftH % lifeH);
    }

    // What the trucks beyond the first twelve go through in turn, where their place in the pattern asks for no cause of its own.
    private static readonly Cause[] InTurn =
    [
        Cause.InletFilterClogged, Cause.ReliefLow, Cause.CarryOver, Cause.CouplingSlip, Cause.HoseLiningInlet, Cause.ReliefHigh, Cause.OilWrongOrThinned,
        Cause.SensorWrong, Cause.FloatClosesEarly, Cause.Overspeed, Cause.VanesSticking, Cause.GatewaySilent, Cause.HoseLiningDischarge, Cause.ReliefStuck,
        Cause.Underspeed, Cause.MeterReset,
    ];

    // Places whose trucks go through InTurn: healthy and in mid-life or fresh. The others of the healthy ones stay so, to count false findings on.
    private static readonly int[] TurnPlaces = [7, 8, 10, 11];

    private static ImmutableArray<InjectedFault> Faults(TruckRole role, int slot, int round, Yard yard, DateOnly from, int days, SeededRandom random)
    {
        var other = round % 2 == 1;
        var place = Array.IndexOf(TurnPlaces, slot);
        return role switch
        {
            TruckRole.OilHigh => [Fault(other ? Cause.OilLeak : Cause.OilFeedHigh, 0.5, 0.12, 0.75)],
            TruckRole.OilStarved => [Fault(Cause.OilLineChoked, 0.66, 0.06, 0.55)],
            TruckRole.Hot => [Fault(other ? Cause.CoolingPoor : Cause.DischargeCarboned, 0.4, 0.3, 0.7)],
            TruckRole.Leaking => [Fault(Cause.LeakTankSide, 0.6, 0, 0.75)],
            _ when round > 0 && place >= 0 => [Turn(InTurn[(((round - 1) * TurnPlaces.Length) + place) % InTurn.Length])],
            _ => [],
        };

        InjectedFault Turn(Cause cause)
        {
            var growth = cause switch
            {
                Cause.ReliefStuck or Cause.MeterReset or Cause.GatewaySilent or Cause.VanesSticking or Cause.FloatClosesEarly => 0,
                Cause.CarryOver or Cause.Overspeed or Cause.Underspeed or Cause.OilWrongOrThinned => 0.02,
                _ => 0.12,
            };
            return Fault(cause, 0.45, growth, 0.75);
        }

        // Shares of the whole time; the first twelve trucks keep close to the pattern and are not repaired, later ones scatter.
        InjectedFault Fault(Cause cause, double onsetShare, double growthShare, double severity)
        {
            var scatter = round == 0 ? 0.02 : 0.12;
            var onset = days * (onsetShare + random.Uniform(-scatter, scatter));
            var growth = Math.Round(days * growthShare);
            var full = Math.Round(Math.Min(1, severity * (round == 0 ? 1 : random.Uniform(0.7, 1.3))), 2);
            DateTimeOffset? ends = null;
            if (round > 0)
            {
                // Found on a round weeks after it has grown; a silent gateway is missed sooner.
                var after = onset + growth + (cause == Cause.GatewaySilent ? random.Uniform(5, 12) : random.Uniform(35, 80));
                var sunday = SundayNear(from, (int)after, int.MaxValue);
                ends = sunday.DayNumber - from.DayNumber < days && cause != Cause.MeterReset ? yard.At(sunday, 9 * 3600) : null;
            }

            return new InjectedFault(cause, yard.At(from, 5 * 3600).AddDays((int)onset), TimeSpan.FromDays(growth), full, ends, random.Whole(0, 2));
        }
    }

    private static InjectedFault Planted(PlantedFault fault, Yard yard, DateOnly from) =>
        new(fault.Cause, yard.At(from, 5 * 3600).AddDays(fault.OnsetDay), TimeSpan.FromDays(fault.GrowthDays), fault.Severity, Variant: fault.Variant);

    // No cause of its own: the vanes wear faster.
    private static InjectedFault FastWear(Yard yard, DateOnly from, int days, SeededRandom random) =>
        new(Cause.VanesWorn, yard.At(from, 5 * 3600).AddDays((int)(days * random.Uniform(0.35, 0.6))), TimeSpan.Zero, 1);

    private static DateOnly SundayNear(DateOnly from, int day, int days)
    {
        var date = from.AddDays(Math.Max(1, day));
        date = date.AddDays((7 - (int)date.DayOfWeek) % 7);
        return date.DayNumber - from.DayNumber < days ? date : date.AddDays(-7);
    }
}
