namespace Vanehour.Reports.Drawing;

/// <summary>The range and ticks of a value axis.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end, above <paramref name="Low"/>.</param>
/// <param name="Step">From one tick to the next.</param>
internal readonly record struct ValueScale(double Low, double High, double Step)
{
    /// <summary>Beyond these a value can only be a fault; the axis does not follow.</summary>
    private const double Largest = 1e9;

    /// <summary>A range below this, or below this share of its ends, is no range: it is opened up.</summary>
    private const double Smallest = 1e-6;

    /// <summary>A scale with ticks on round numbers that holds <paramref name="low"/> to <paramref name="high"/> with about <paramref name="ticks"/> ticks.</summary>
    public static ValueScale Round(double low, double high, int ticks)
    {
        low = Math.Clamp(double.IsFinite(low) ? low : 0, -Largest, Largest);
        high = Math.Clamp(double.IsFinite(high) ? high : low + 1, -Largest, Largest);
        (low, high) = (Math.Min(low, high), Math.Max(low, high));
        if (high - low <= Math.Max(Smallest, Math.Max(Math.Abs(high), Math.Abs(low)) * Smallest))
        {
            var pad = Math.Max(0.5, Math.Abs(high) * 0.05);
            low = low == 0 ? 0 : low - pad;
            high += pad;
        }

        var raw = (high - low) / ticks;
        var power = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        var step = power * ((raw / power) switch
        {
            <= 1 => 1,
            <= 2 => 2,
            <= 5 => 5,
            _ => 10,
        });

        // A little air, so that nothing sits on the edge; but what starts at zero starts there.
        var air = (high - low) * 0.07;
        return new ValueScale(low == 0 ? 0 : low - air, high + air, step);
    }

    /// <summary>A scale for readings: it holds <paramref name="always"/> and nearly all readings, but lets no lone extreme squash the rest.</summary>
    public static ValueScale Readings(IEnumerable<double> readings, IEnumerable<double> always, int ticks)
    {
        var sorted = readings.Where(double.IsFinite).Order().ToArray();
        var fixedOnes = always.Where(double.IsFinite).ToArray();
        var all = fixedOnes.AsEnumerable();
        if (sorted.Length > 0)
        {
            // The middle 90 % and as much again on either side, never further than the extremes themselves.
            var low = sorted[sorted.Length / 20];
            var high = sorted[sorted.Length - 1 - (sorted.Length / 20)];
            var span = Math.Max(high - low, Math.Max(Math.Abs(high), Math.Abs(low)) * 0.05);
            all = all.Append(Math.Max(sorted[0], low - span)).Append(Math.Min(sorted[^1], high + span));
        }

        var values = all.ToArray();
        return values.Length == 0 ? Round(0, 1, ticks) : Round(values.Min(), values.Max(), ticks);
    }

    public bool Holds(double value) => value >= Low && value <= High;
}
