using System.Collections.Immutable;
using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>
/// Sets the bands of a pump model by what the chosen candidate missed on runs held out: split-conformal, the split being by truck and time. Runs in a
/// lasting shift are no example of a healthy pump and set no band.
/// </summary>
/// <remarks>
/// The scores come from models learned on the earlier runs of other trucks, the band goes round a model learned on all that is there; it errs no more
/// than they, so the band is rather too wide. Runs of one truck share the error of its level, so the promise holds on average over trucks.
/// </remarks>
internal static class ConformalBands
{
    /// <summary>The result with its bands set, and how they were; t intervals stay where the held-out runs are too few.</summary>
    public static (ExpectationResult Result, BandCoverage Band) Set(
        ExpectationResult result, string pumpModel, IReadOnlyList<HeldOutRun> held, ExpectationOptions expectation, ChoiceOptions options)
    {
        var shifted = Shifted(result, expectation.Shift);
        var byTruck = held
            .Where(h => !shifted.Contains((h.Observation.Run.Truck, h.Observation.Run.Start)))
            .GroupBy(h => h.Observation.Run.Truck, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Select(h => h.Score).ToList(), StringComparer.Ordinal);
        List<double> scores = [.. byTruck.Values.SelectMany(s => s)];
        var band = new BandCoverage
        {
            PumpModel = pumpModel,
            Level = expectation.Level,
            CalibrationRuns = scores.Count,
            CalibrationTrucks = byTruck.Count,
        };
        if (scores.Count < options.FewestCalibrationRuns
            || byTruck.Count < options.FewestCalibrationTrucks
            || ConformalQuantile.Of(scores, expectation.Level) is not { } half)
        {
            return (result, band);
        }

        var (coverage, se) = HoldOut(byTruck, expectation.Level);
        return (
            result with { Pumps = [.. result.Pumps.Select(p => p with { Points = Widen(p, half) })] },
            band with { HalfWidthSd = half, HoldOutCoverage = coverage, HoldOutCoverageSe = se });
    }

    /// <summary>Each truck's share of runs inside a band set by the others; mean over runs, standard error over trucks.</summary>
    public static (double? Coverage, double? Se) HoldOut(Dictionary<string, List<double>> byTruck, double level)
    {
        var shares = new List<(double Inside, int Runs)>();
        foreach (var (truck, own) in byTruck)
        {
            if (ConformalQuantile.Of([.. byTruck.Where(t => t.Key != truck).SelectMany(t => t.Value)], level) is { } half)
            {
                shares.Add((own.Count(s => s <= half), own.Count));
            }
        }

        if (shares.Count < 2)
        {
            return (null, null);
        }

        // Ratio estimate: the variance of a truck's count about what its number of runs would give.
        var runs = shares.Sum(s => s.Runs);
        var mean = shares.Sum(s => s.Inside) / runs;
        var squares = shares.Sum(s => (s.Inside - (mean * s.Runs)) * (s.Inside - (mean * s.Runs)));
        return (mean, Math.Sqrt(squares * shares.Count / (shares.Count - 1)) / runs);
    }

    private static ImmutableArray<IndicatorPoint> Widen(PumpJudgement pump, double half)
    {
        // Judged runs are the points with an expectation, in the same order.
        var next = 0;
        return
        [
            .. pump.Points.Select(p =>
            {
                if (p.Expected is not { } expected)
                {
                    return p;
                }

                var width = half * pump.Judged[next++].TotalSd;
                return p with { ExpectedLow = expected - width, ExpectedHigh = expected + width };
            }),
        ];
    }

    private static HashSet<(string Truck, DateTimeOffset Start)> Shifted(ExpectationResult result, ShiftOptions shift)
    {
        var shifted = new HashSet<(string, DateTimeOffset)>();
        foreach (var pump in result.Pumps)
        {
            var states = ShiftTracker.Track(pump.Judged, pump.Rho, pump.Definition.MattersFrom, shift);
            foreach (var (state, isShifted) in states.Zip(ShiftTracker.Lasting(states)))
            {
                if (isShifted)
                {
                    shifted.Add((pump.Pump.Truck.Id, state.Run.Start));
                }
            }
        }

        return shifted;
    }
}
