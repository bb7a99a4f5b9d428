using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Simulator.Duty;
using Vanehour.Simulator.Physics;
using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Scenario;

/// <summary>The lives that a truck's pump had before the time simulated, as the service records tell them.</summary>
/// <param name="FirstFittedAt">When the first life that is known of began; often long before the records begin: a life under observation only from some age on.</param>
/// <param name="FirstMeterH">The meter then, h.</param>
/// <param name="MeterNowH">The meter when the life that runs at the beginning began, h.</param>
/// <param name="Records">What ended them, in order of instant.</param>
internal sealed record PastLives(DateTimeOffset FirstFittedAt, double FirstMeterH, double MeterNowH, ImmutableArray<ServiceRecord> Records)
{
    // Shares and wears at which lives ended; invented.
    private const double FailureShare = 0.25;
    private const int EveningSecondOfDay = 15 * 3600;

    /// <summary>Draws them backwards from the fitting of the pump that runs at the beginning.</summary>
    public static PastLives Before(
        DateTimeOffset fittedAt, double meterH, string truck, ScenarioSlot slot, CrewHabits crew, double speed, SimulationOptions options, int index)
    {
        if (options.HistoryYears == 0)
        {
            return new(fittedAt, meterH, meterH, []);
        }

        var random = SeededRandom.For(options.Seed, index, RandomStream.History);
        var recordsFrom = options.From.AddYears(-options.HistoryYears);
        var fitted = slot.Yard.DateOf(fittedAt);
        var ends = new List<(DateOnly On, double HoursBefore, bool Failed)>();
        var hoursBack = 0.0;
        while (fitted > recordsFrom)
        {
            var failed = random.Chance(FailureShare);
            var wear = failed ? random.Uniform(1.2, 1.5) : random.Uniform(0.85, 1.05);
            var lifeH = VaneWearLaw.HoursTo(wear, slot.Build.VaneLifeH / random.Factor(0.1)) / speed;
            ends.Add((fitted, hoursBack, failed));
            hoursBack += lifeH;
            fitted = fitted.AddDays(-Math.Max(1, (int)(7 * lifeH / crew.HoursPerWeek)));
        }

        var firstMeter = Math.Round(random.Uniform(5, 400), 1);
        var nowH = Math.Round(firstMeter + hoursBack, 1);
        ends.Reverse();
        var records = ImmutableArray.CreateBuilder<ServiceRecord>();
        foreach (var (on, back, failed) in ends)
        {
            var meter = Math.Round(nowH - back, 1);
            if (failed)
            {
                // It stood for two to ten days.
                Add(on.AddDays(-random.Whole(2, 10)), meter, ServiceKind.Failure, "Pump seized");
                Add(on, meter, ServiceKind.Rebuild, "Repair after failure");
            }
            else
            {
                Add(on, meter, ServiceKind.Rebuild, "Vanes replaced, end plates dressed");
            }
        }

        // The running life begins at its midnight; the record that began it must not lie after.
        return new(slot.Yard.At(fitted, 0), firstMeter, nowH, records.ToImmutable());

        void Add(DateOnly on, double meter, ServiceKind kind, string note) => records.Add(new ServiceRecord
        {
            RecordId = FormattableString.Invariant($"{truck}-P{records.Count + 1:D3}"),
            At = slot.Yard.At(on.AddDays(-1), EveningSecondOfDay),
            Truck = truck,
            MeterH = meter,
            Kind = kind,
            Note = note,
        });
    }
}
