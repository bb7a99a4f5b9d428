using System.Globalization;
using System.Text.Json.Serialization;

namespace Vanehour.Models.Planning;

/// <summary>A week by ISO 8601, Monday to Sunday, as 2027-W05.</summary>
[JsonConverter(typeof(PlanWeekConverter))]
public readonly record struct PlanWeek : IComparable<PlanWeek>
{
    private const int DaysInWeek = 7;
    private readonly DateOnly monday;

    private PlanWeek(DateOnly monday) => this.monday = monday;

    /// <summary>Its first day.</summary>
    public DateOnly Monday => monday;

    /// <summary>The first instant of its Monday, UTC.</summary>
    public DateTimeOffset Start => new(monday, TimeOnly.MinValue, TimeSpan.Zero);

    /// <summary>The week of a day.</summary>
    public static PlanWeek Of(DateOnly day) => new(day.AddDays(-((int)day.DayOfWeek + 6) % DaysInWeek));

    /// <summary>The week of an instant by UTC.</summary>
    public static PlanWeek Of(DateTimeOffset at) => Of(DateOnly.FromDateTime(at.UtcDateTime));

    /// <summary>Reads a week as 2027-W05; false where the text is none, or the year has no such week.</summary>
    public static bool TryParse(string? text, out PlanWeek week)
    {
        week = default;
        if (text is not { Length: 8 } || text[4] != '-' || (text[5] != 'W' && text[5] != 'w')
            || !int.TryParse(text.AsSpan(0, 4), NumberStyles.None, CultureInfo.InvariantCulture, out var year)
            || !int.TryParse(text.AsSpan(6, 2), NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            || year is < 1900 or > 9000 || number < 1 || number > ISOWeek.GetWeeksInYear(year))
        {
            return false;
        }

        week = new PlanWeek(DateOnly.FromDateTime(ISOWeek.ToDateTime(year, number, DayOfWeek.Monday)));
        return true;
    }

    /// <summary>So many weeks on.</summary>
    public PlanWeek Plus(int weeks) => new(monday.AddDays(DaysInWeek * weeks));

    /// <summary>How many weeks after another one it is; below 0 where it is before it.</summary>
    public int WeeksAfter(PlanWeek other) => (monday.DayNumber - other.monday.DayNumber) / DaysInWeek;

    /// <inheritdoc/>
    public int CompareTo(PlanWeek other) => monday.CompareTo(other.monday);

    /// <inheritdoc/>
    public override string ToString()
    {
        var day = monday.ToDateTime(TimeOnly.MinValue);
        return string.Create(CultureInfo.InvariantCulture, $"{ISOWeek.GetYear(day):D4}-W{ISOWeek.GetWeekOfYear(day):D2}");
    }

    public static bool operator <(PlanWeek left, PlanWeek right) => left.CompareTo(right) < 0;

    public static bool operator >(PlanWeek left, PlanWeek right) => left.CompareTo(right) > 0;

    public static bool operator <=(PlanWeek left, PlanWeek right) => left.CompareTo(right) <= 0;

    public static bool operator >=(PlanWeek left, PlanWeek right) => left.CompareTo(right) >= 0;
}
