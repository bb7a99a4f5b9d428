using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Duty;

/// <summary>A yard's days off and how its demand follows the seasons; invented.</summary>
internal sealed class YardCalendar
{
    // Month and day. The first three are off everywhere.
    private static readonly (int Month, int Day)[] Everywhere = [(1, 1), (7, 4), (12, 25)];
    private const double DemandSwing = 0.1;

    private readonly (int Month, int Day)[] own = new (int, int)[3];
    private readonly int busiestDayOfYear;

    public YardCalendar(int yard, long seed)
    {
        var random = SeededRandom.For(seed, yard, RandomStream.Calendar);
        for (var i = 0; i < own.Length; i++)
        {
            own[i] = (random.Whole(1, 12), random.Whole(1, 28));
        }

        // Wet springs at one yard, dry summers at another.
        busiestDayOfYear = random.Whole(90, 240);
    }

    public bool IsHoliday(DateOnly date) => Has(Everywhere, date) || Has(own, date);

    /// <summary>Jobs over the mean of the year, about 1.</summary>
    public double Demand(DateOnly date) => 1 + (DemandSwing * Math.Cos(2 * Math.PI * (date.DayOfYear - busiestDayOfYear) / 365.25));

    private static bool Has((int Month, int Day)[] days, DateOnly date)
    {
        foreach (var (month, day) in days)
        {
            if (date.Month == month && date.Day == day)
            {
                return true;
            }
        }

        return false;
    }
}
