namespace Vanehour.Simulator;

/// <summary>What fleet to simulate. The same options give the same bytes.</summary>
public sealed record SimulationOptions
{
    /// <summary>How many trucks, 1 to 1 000.</summary>
    public int Trucks { get; init; } = 12;

    /// <summary>How many months, 1 to 120.</summary>
    public int Months { get; init; } = 6;

    /// <summary>The first day, local to each yard; from 2000-01-02 to 2200.</summary>
    public DateOnly From { get; init; } = new(2026, 1, 5);

    /// <summary>Any number; another seed gives another fleet of the same pattern.</summary>
    public long Seed { get; init; } = 1;

    /// <summary>Which faults.</summary>
    public FaultScenario Faults { get; init; } = FaultScenario.Default;

    /// <summary>One fault on one truck, for a drill; only where <see cref="Faults"/> is <see cref="FaultScenario.None"/>. Null: none.</summary>
    public PlantedFault? Planted { get; init; }

    /// <summary>Seconds between samples at steady work, 10 to 600.</summary>
    public int SteadyIntervalS { get; init; } = 30;

    /// <summary>Seconds between samples while the vacuum rises, 1 to 30.</summary>
    public int PumpDownIntervalS { get; init; } = 5;

    /// <summary>Seconds between samples that carry the slow signals (meter, temperatures, oil, barometer, speed), from the steady interval to 600.</summary>
    public int SlowIntervalS { get; init; } = 60;

    /// <summary>Minutes between samples with the power take-off off, by day, 5 to 240.</summary>
    public int IdleIntervalMin { get; init; } = 30;

    /// <summary>The fewest instants in a message, 1 to 1 000; a message holds fewer than twice as many. At the day's end what is left joins the last message.</summary>
    public int PackInstants { get; init; } = 20;

    /// <summary>Years before the first day from which service records of past lives are known, 0 to 30; 0 leaves the pumps' past out.</summary>
    public int HistoryYears { get; init; }

    /// <summary>Chance that a morning begins with liquid left in the tank, 0 to 1.</summary>
    public double PartFullChance { get; init; } = 0.04;

    /// <summary>Chance that a crew cuts its start-up check short, 0 to 1.</summary>
    public double CutShortChance { get; init; } = 0.03;

    /// <summary>
    /// How dirty the telemetry is, 0 to 3: 0 is clean, 1 is meant to be as real feeds are, more is rates that many times as high. The rates are invented.
    /// </summary>
    public double Dirt { get; init; }

    /// <summary>Checks every value.</summary>
    /// <exception cref="ArgumentOutOfRangeException">One is outside its range.</exception>
    public void Validate()
    {
        Check(Trucks, 1, 1000, nameof(Trucks));
        Check(Months, 1, 120, nameof(Months));
        Check(From.Year, 2000, 2200, nameof(From));
        Check(From.DayNumber, new DateOnly(2000, 1, 2).DayNumber, int.MaxValue, nameof(From));
        Check(SteadyIntervalS, 10, 600, nameof(SteadyIntervalS));
        Check(PumpDownIntervalS, 1, 30, nameof(PumpDownIntervalS));
        Check(SlowIntervalS, SteadyIntervalS, 600, nameof(SlowIntervalS));
        Check(IdleIntervalMin, 5, 240, nameof(IdleIntervalMin));
        Check(PackInstants, 1, 1000, nameof(PackInstants));
        Check(HistoryYears, 0, 30, nameof(HistoryYears));
        CheckChance(PartFullChance, nameof(PartFullChance));
        CheckChance(CutShortChance, nameof(CutShortChance));
        if (Dirt is not (>= 0 and <= 3))
        {
            throw new ArgumentOutOfRangeException(nameof(Dirt), Dirt, "Must lie between 0 and 3.");
        }

        if (!Enum.IsDefined(Faults))
        {
            throw new ArgumentOutOfRangeException(nameof(Faults), Faults, "Must be None, Default or Drift.");
        }

        if (Planted is { } planted)
        {
            if (Faults != FaultScenario.None)
            {
                throw new ArgumentOutOfRangeException(nameof(Planted), planted, "Goes only with a fleet that is healthy otherwise.");
            }

            Check(planted.Truck, 0, Trucks - 1, nameof(Planted));
            Check(planted.OnsetDay, 0, From.AddMonths(Months).DayNumber - From.DayNumber - 1, nameof(Planted));
            Check(planted.GrowthDays, 0, 3650, nameof(Planted));
            Check(planted.Variant, 0, int.MaxValue, nameof(Planted));
            if (planted.Severity is not (> 0 and <= 1))
            {
                throw new ArgumentOutOfRangeException(nameof(Planted), planted.Severity, "The severity must lie above 0 and at most at 1.");
            }
        }

        static void CheckChance(double value, string name)
        {
            if (value is not (>= 0 and <= 1))
            {
                throw new ArgumentOutOfRangeException(name, value, "Must lie between 0 and 1.");
            }
        }

        static void Check(int value, int low, int high, string name)
        {
            if (value < low || value > high)
            {
                throw new ArgumentOutOfRangeException(name, value, FormattableString.Invariant($"Must lie between {low} and {high}."));
            }
        }
    }
}
