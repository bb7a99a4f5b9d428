using Vanehour.Fleet;
using Vanehour.Simulator.Faults;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Simulation;

/// <content>What the shop does to the truck, and what it writes down.</content>
internal sealed partial class TruckSimulation
{
    // Sundays, local, when no truck works. Vanes are measured on arrival, so that the width belongs to the life that a rebuild then ends.
    private const int RepairSecondOfDay = 9 * 3600;
    private const int MeasureSecondOfDay = 10 * 3600;
    private const int RebuildSecondOfDay = 15 * 3600;
    private const int ReliefSecondOfDay = 16 * 3600;
    private const int MeterSecondOfDay = 17 * 3600;

    // The shop looks through the inspection port at the first Sunday of every month; a caliper on several vanes, averaged. Invented standard error.
    private const double CaliperMm = 0.12;

    private void Serve(DateOnly date, List<ServiceRecord>? services)
    {
        var filterDay = date.Day <= 7;
        var forced = date == plan.RebuildOn;
        if (filterDay)
        {
            vaneWidthMm = VaneWidth(date);
        }

        foreach (var fault in plan.Faults)
        {
            if (fault.Ends is { } ends && plan.Yard.DateOf(ends) == date)
            {
                Repair(fault, date, services);
            }
        }

        var seen = new PumpObservation
        {
            Truck = plan.Truck.Id,
            PumpModel = plan.Build.Model.Model,
            Date = date,
            HoursSinceFitting = pump.HoursSinceFitting,
            VaneWidthMm = vaneWidthMm,
            VaneWidthLimitMm = plan.Build.Model.VaneWidthLimit!.Value.Millimetres,
            CheckSpeed = checkSpeeds.Count == ChecksKept ? Median(checkSpeeds) : null,
            CheckSpeedAtLimit = plan.CheckSpeedAtLimit,
        };
        var failed = lives[^1].Failed;
        var rebuilds = failed ? date.AddDays(1) >= outUntil : forced || policy.Rebuild(seen);
        if ((rebuilds && !failed) || plan.VaneWidthOn.Contains(date))
        {
            Record(services, date, MeasureSecondOfDay, ServiceKind.VaneWidth, Math.Round(VaneWidth(date), 1), "mm");
        }

        if (filterDay && !plan.Faults.Any(f => f.Cause == Cause.InletFilterClogged && f.IsOn(plan.Yard.At(date, MeasureSecondOfDay).ToUnixTimeSeconds())))
        {
            Record(services, date, MeasureSecondOfDay, ServiceKind.InletFilter);
        }

        if (rebuilds)
        {
            Rebuild(date, services);
        }

        if (options.Dirt > 0)
        {
            ReplaceMeter(date, services);
        }
    }

    private void ReplaceMeter(DateOnly date, List<ServiceRecord>? services)
    {
        var random = Stream(RandomStream.Meter, date);
        if (!random.Chance(GatewayRates.MeterReplaced * options.Dirt))
        {
            return;
        }

        // The record names what the old meter showed last and what the new one, new or from another truck, shows first.
        var newH = Math.Round(random.Chance(0.5) ? random.Uniform(0, 1) : random.Uniform(100, 4000), 1);
        Record(services, date, MeterSecondOfDay, ServiceKind.MeterReplaced, newH, "h");
        executor.ReplaceMeter(newH);
        MeterReplaced?.Invoke(plan.Yard.At(date, MeterSecondOfDay));
    }

    private void Repair(InjectedFault fault, DateOnly date, List<ServiceRecord>? services)
    {
        var (kind, note) = fault.Repair;
        if (kind == ServiceKind.ReliefVacuumSet)
        {
            Record(services, date, RepairSecondOfDay, kind, WantedReliefInHg, "inHg");
        }
        else
        {
            Record(services, date, RepairSecondOfDay, kind, note: note);
        }
    }

    private double WantedReliefInHg => Math.Round(plan.Build.Model.ReliefVacuum!.Value.InchesOfMercury, 1);

    private void Fail(DateOnly date, List<ServiceRecord>? services)
    {
        BeforeLifeEnds?.Invoke(this);
        Failures++;
        PastLimit += pump.Wear > 1 ? 1 : 0;
        var at = DateTimeOffset.FromUnixTimeSeconds(executor.NowS).ToOffset(plan.Yard.At(date, 12 * 3600).Offset);
        AddRecord(services, at, ServiceKind.Failure, null, null, "Pump seized");
        lives[^1].Failed = true;
        lives[^1].RemovedAt = at;

        // The shop has it until the Sunday after next; it works again on the Monday.
        var until = date.AddDays(8 + ((7 - (int)date.DayOfWeek) % 7));
        OutOfService?.Invoke(date, until);
        outUntil = Later(outUntil, until);
    }

    private void Rebuild(DateOnly date, List<ServiceRecord>? services)
    {
        var at = plan.Yard.At(date, RebuildSecondOfDay);
        var life = lives[^1];
        if (!life.Failed)
        {
            BeforeLifeEnds?.Invoke(this);
            PlannedRebuilds++;
            UnusedLives += Math.Max(0, 1 - pump.Wear);
            PastLimit += pump.Wear > 1 ? 1 : 0;
        }

        life.RemovedAt ??= at;
        var traits = plan.Traits;
        var random = SeededRandom.For(options.Seed, plan.Index, RandomStream.Wear, -lives.Count - 1);
        var wearFactor = random.Factor(0.1);
        if (plan.SwapsPumps)
        {
            if (!life.Failed)
            {
                Record(services, date, RebuildSecondOfDay, ServiceKind.Removed, note: "Swapped for a rebuilt spare");
            }

            serial = FormattableString.Invariant($"{plan.Truck.PumpSerial}-S{lives.Count}");
            traits = traits.OtherPump(random);
            records++;
            services?.Add(NewRecord(at, ServiceKind.Fitted) with { PumpSerial = serial, PumpModel = plan.Build.Model.Model });
        }
        else
        {
            Record(services, date, RebuildSecondOfDay, ServiceKind.Rebuild, note: life.Failed ? "Repair after failure" : "Vanes replaced, end plates dressed");
        }

        lives.Add(NewLife(at, executor.MeterH));
        pump.FitPump(traits);
        pump.StartLife(wearFactor);
        checkSpeeds.Clear();
        vaneWidthMm = null;
        Record(services, date, ReliefSecondOfDay, ServiceKind.ReliefVacuumSet, WantedReliefInHg, "inHg");
    }

    private double VaneWidth(DateOnly date)
    {
        var newMm = plan.Build.Model.VaneWidthNew!.Value.Millimetres;
        var limitMm = plan.Build.Model.VaneWidthLimit!.Value.Millimetres;
        return newMm - (pump.Wear * (newMm - limitMm)) + (CaliperMm * Stream(RandomStream.Service, date).Normal());
    }

    private void Record(
        List<ServiceRecord>? services, DateOnly date, int secondOfDay, ServiceKind kind, double? value = null, string? unit = null, string? note = null)
    {
        // Some are written up days later under that day's date; what ends or starts a life never is.
        var random = SeededRandom.For(options.Seed, plan.Index, RandomStream.Service, -records - 1);
        var late = kind is not (ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Removed or ServiceKind.Fitted or ServiceKind.MeterReplaced) && random.Chance(plan.Crew.LateRecordChance);
        AddRecord(services, plan.Yard.At(late ? date.AddDays(random.Whole(1, 6)) : date, secondOfDay), kind, value, unit, note);
    }

    private void AddRecord(List<ServiceRecord>? services, DateTimeOffset at, ServiceKind kind, double? value, string? unit, string? note)
    {
        records++;
        services?.Add(NewRecord(at, kind) with { Value = value, Unit = unit, Note = note });
    }

    private ServiceRecord NewRecord(DateTimeOffset at, ServiceKind kind) => new()
    {
        RecordId = FormattableString.Invariant($"{plan.Truck.Id}-{records:D3}"),
        At = at,
        Truck = plan.Truck.Id,
        MeterH = Math.Round(executor.MeterH, 2),
        Kind = kind,
    };

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
