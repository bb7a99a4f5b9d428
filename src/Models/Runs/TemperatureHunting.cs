using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>
/// How restless the pump temperature is under vacuum: liquid that comes past a float shut-off comes in gulps, and the housing falls and recovers with each (common practice:
/// temperature falls, then hunts). A steady warm-up, however fast, leaves next to nothing.
/// </summary>
internal static class TemperatureHunting
{
    // Further apart a gulp lies between two readings; readings closer together are passed over, or the steps of the sensor would be all that is seen.
    private const long ShortestStepMs = 55_000;
    private const long LongestStepMs = 150_000;
    private const int FewestReadings = 4;

    /// <summary>
    /// Root mean square of how far each reading lies off the line between its neighbours, over what independent noise of 1 K would give, K; null with too few readings under
    /// vacuum.
    /// </summary>
    public static double? Of(RunTrace trace)
    {
        var times = trace.TimesMs;
        var temperatures = trace[Signal.PumpTemp];
        var vacuum = trace[Signal.Vacuum];
        var (first, second, loaded) = (-1, -1, double.NaN);
        var (sum, count) = (0.0, 0);
        for (var i = 0; i < times.Length; i++)
        {
            loaded = double.IsNaN(vacuum[i]) ? loaded : vacuum[i];
            if (double.IsNaN(temperatures[i]))
            {
                continue;
            }

            if (!(loaded > RunRules.LoadKPa))
            {
                (first, second) = (-1, -1);
                continue;
            }

            if (second >= 0 && times[i] - times[second] < ShortestStepMs)
            {
                continue;
            }

            if (second >= 0 && times[i] - times[second] > LongestStepMs)
            {
                (first, second) = (-1, i);
                continue;
            }

            if (first >= 0)
            {
                var share = (double)(times[second] - times[first]) / (times[i] - times[first]);
                var off = temperatures[second] - ((1 - share) * temperatures[first]) - (share * temperatures[i]);
                sum += off * off / (1 + (share * share) + ((1 - share) * (1 - share)));
                count++;
            }

            (first, second) = (second, i);
        }

        return count < FewestReadings ? null : Math.Sqrt(sum / count);
    }
}
