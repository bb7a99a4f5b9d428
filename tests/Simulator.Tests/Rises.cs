using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests;

/// <summary>The first pump-down of a day as a plain reader of the samples would see it.</summary>
/// <param name="At">When the vacuum began to rise.</param>
/// <param name="SecondsTo50KPa">Seconds from the first sample above 2 kPa to the first above 50 kPa.</param>
/// <param name="SamplesBelowPlateau">Samples on the rise up to 1.5 kPa or 3 % below the plateau.</param>
internal sealed record Rises(DateTimeOffset At, double SecondsTo50KPa, int SamplesBelowPlateau)
{
    /// <summary>Every first rise after at least four hours of rest that stays short and near its plateau, as a start-up check does.</summary>
    public static IEnumerable<Rises> StartUpChecks(IEnumerable<Sample> samples)
    {
        var rise = new List<Sample>();
        var last = DateTimeOffset.MinValue;
        var waiting = false;
        foreach (var sample in samples)
        {
            if (sample.At - last > TimeSpan.FromHours(4))
            {
                waiting = true;
                rise.Clear();
            }

            last = sample.At;
            if (!waiting || sample[Signal.Vacuum] is not { } vacuum)
            {
                continue;
            }

            if (vacuum > 2)
            {
                rise.Add(sample);
            }
            else if (rise.Count > 0)
            {
                waiting = false;
                var plateau = rise.Max(s => s[Signal.Vacuum]!.Value);
                if (plateau > 50 && rise[^1].At - rise[0].At < TimeSpan.FromMinutes(9))
                {
                    var seconds = (rise.First(s => s[Signal.Vacuum] > 50).At - rise[0].At).TotalSeconds;
                    var fitted = rise.TakeWhile(s => s[Signal.Vacuum] < plateau - Math.Max(1.5, 0.03 * plateau)).Count();
                    yield return new Rises(rise[0].At, seconds, fitted);
                }
            }
        }
    }
}
