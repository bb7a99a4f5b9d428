using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Findings;

/// <summary>A speed that has moved from where it used to be and is about to leave the pump model's range: it is out of it within days, and the pump with it.</summary>
internal static class SpeedDrift
{
    private const int Recent = 6;
    private const int Before = 60;
    private const int FewestBefore = 20;

    // Gearing and engine speed are set once; crews scatter by a per cent or two.
    private const double MattersFrom = 0.03;

    // The last fifth of the range on either side; of our own.
    private const double EndShare = 0.2;

    /// <summary>How strongly it shows after a run: 1 where it counts, 0 where it does not.</summary>
    /// <param name="runs">Runs, those without a speed passed over.</param>
    /// <param name="index">The run.</param>
    /// <param name="model">The pump model.</param>
    public static double Of(IReadOnlyList<Run> runs, int index, PumpModel model)
    {
        // Against the first runs, so that a speed that stays where it went stays found, until a person says that it was set so.
        double[] first = [.. runs.Take(Math.Min(Before, index + 1 - (2 * Recent))).Select(r => r.SpeedMeanRpm).OfType<double>()];
        double[] last = [.. runs.Skip(index + 1 - Recent).Take(Recent).Select(r => r.SpeedMeanRpm).OfType<double>()];
        if (first.Length < FewestBefore || last.Length < Recent)
        {
            return 0;
        }

        var usual = Robust.Median(first);
        var now = Robust.Median(last);
        var moved = (now - usual) / usual;
        var isLeaving = moved > 0 ? now > NearEnd(model, high: true) : now < NearEnd(model, high: false);
        return isLeaving ? Math.Abs(moved) / MattersFrom : 0;
    }

    /// <summary>Where the last part of the range begins, rpm.</summary>
    public static double NearEnd(PumpModel model, bool high)
    {
        var width = model.MaxSpeed.Rpm - model.MinSpeed.Rpm;
        return high ? model.MaxSpeed.Rpm - (EndShare * width) : model.MinSpeed.Rpm + (EndShare * width);
    }
}
