using System.Globalization;
using Vanehour.Simulator;

namespace Vanehour.Scoring.Drills;

/// <summary>The fleet of a drill: six trucks, one of which carries the case. Everything follows from case and seed.</summary>
public sealed class DrillFleet
{
    /// <summary>How many trucks a drill has.</summary>
    public const int Trucks = 6;

    /// <summary>The first day after the data, invented: every drill ends on the same Sunday.</summary>
    public static readonly DateOnly DayAfter = new(2025, 10, 6);

    private DrillFleet(DrillCase @case, long seed, string truck, SimulatedFleet fleet)
    {
        Case = @case;
        Seed = seed;
        Truck = truck;
        Fleet = fleet;
    }

    /// <summary>The case.</summary>
    public DrillCase Case { get; }

    /// <summary>The seed.</summary>
    public long Seed { get; }

    /// <summary>The truck that the right answer names: the faulted one, or the one complained of where nothing is wrong.</summary>
    public string Truck { get; }

    /// <summary>The simulated fleet.</summary>
    public SimulatedFleet Fleet { get; }

    /// <summary>When it begins; null where nothing begins (nothing is wrong, or the vanes have only grown old).</summary>
    public DateTimeOffset? Onset => Began ? Fleet.Start.AddDays(Planted!.OnsetDay) : null;

    /// <summary>When it is fully grown; null as <see cref="Onset"/>.</summary>
    public DateTimeOffset? FullAt => Began ? Fleet.Start.AddDays(Planted!.OnsetDay + Planted.GrowthDays) : null;

    /// <summary>How severe it is when fully grown, above 0, at most 1; null as <see cref="Onset"/>.</summary>
    public double? Severity => Began ? Planted!.Severity : null;

    private PlantedFault? Planted => Fleet.Options.Planted;

    private bool Began => Planted is { Cause: not Vanehour.Fleet.Cause.VanesWorn };

    /// <summary>Draws up the fleet of a case. Cheap: nothing is simulated yet.</summary>
    /// <param name="case">The case.</param>
    /// <param name="seed">The seed.</param>
    public static DrillFleet Of(DrillCase @case, long seed)
    {
        ArgumentNullException.ThrowIfNull(@case);
        var draw = new DrillDraw(@case.Id, seed);
        var from = DayAfter.AddMonths(-@case.Months);
        var truck = @case.Trucks[draw.Whole("truck", 0, @case.Trucks.Length - 1)];
        var onset = DayAfter.DayNumber - from.DayNumber - draw.Whole("onset", @case.BeganDaysBeforeEnd[0], @case.BeganDaysBeforeEnd[1]);
        var severity = Math.Round(draw.Uniform("severity", @case.Severity[0], @case.Severity[1]), 2);
        var fleet = SimulatedFleet.Create(new SimulationOptions
        {
            Trucks = Trucks,
            Months = @case.Months,
            From = from,
            Seed = seed,
            Faults = FaultScenario.None,
            Planted = @case.Cause is { } cause ? new PlantedFault(truck - 1, cause, onset, @case.GrowthDays, severity, @case.Variant) : null,

            // Crews' habits that harm nothing but the trends; invented, and more of them where it is to be harder.
            PartFullChance = 0.03 * @case.Difficulty,
            CutShortChance = 0.025 * @case.Difficulty,
        });
        return new DrillFleet(@case, seed, string.Create(CultureInfo.InvariantCulture, $"T{truck:D2}"), fleet);
    }
}
