using Vanehour.Fleet;
using Vanehour.Models.Findings;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Watching;

/// <summary>Watches one truck's samples against its pump model's limits: state and samples in, sightings out; no clock, no store.</summary>
/// <remarks>
/// A limit is passed from the first value above it until one well below it, so that a value that trembles about the limit makes one sighting; longer
/// silence than a value holds, or a PTO that says off, ends it too. Samples older than the latest taken are left to the analysis.
/// </remarks>
public sealed class TruckWatch
{
    // Well below: about a gauge's noise; of our own.
    private const double GaugeShare = 0.98;
    private const double BackK = 3;

    private readonly LimitTrack[] tracks;
    private double pto = double.NaN;
    private long ptoMs;

    /// <summary>A watch on a truck with this pump model.</summary>
    /// <param name="model">The limits.</param>
    /// <param name="options">How long they may be passed.</param>
    /// <param name="pressureTolerance">A pressure counts as passed from this factor on, as in the analysis (<see cref="FindingOptions.PressureTolerance"/>).</param>
    public TruckWatch(PumpModel model, WatchOptions options, double pressureTolerance)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(options);
        var (vacuum, pressure, temperature) = (model.MaxVacuum.Kilopascals, model.MaxPressure.Kilopascals, model.MaxTemperature.Celsius);
        tracks =
        [
            new(FindingKind.HeldAboveVacuumLimit, Signal.Vacuum, "kPa", vacuum, vacuum, GaugeShare * vacuum, options.VacuumHoldS),
            new(FindingKind.PressureAboveLimit, Signal.Pressure, "kPa", pressure, pressureTolerance * pressure, GaugeShare * pressureTolerance * pressure, options.PressureHoldS),
            new(FindingKind.RunningHot, Signal.PumpTemp, "Cel", temperature, temperature, temperature - BackK, options.TemperatureHoldS),
        ];
    }

    /// <summary>The latest instant taken, Unix ms; it may be read again, because another message may fill in signals of the same instant.</summary>
    public long LatestMs { get; private set; } = long.MinValue;

    /// <summary>Takes samples and says which limits were passed for too long: those that it was over with, then those that go on.</summary>
    /// <param name="samples">One truck's samples in order of time.</param>
    public IReadOnlyList<LimitSighting> Take(IEnumerable<Sample> samples)
    {
        ArgumentNullException.ThrowIfNull(samples);
        var seen = new List<LimitSighting>();
        foreach (var sample in samples)
        {
            if (sample.UnixMs < LatestMs)
            {
                continue;
            }

            LatestMs = sample.UnixMs;
            if (sample.Values.Raw(Signal.Pto) is var said && !double.IsNaN(said))
            {
                (pto, ptoMs) = (said, sample.UnixMs);
            }

            var isStopped = pto < 0.5 && sample.UnixMs - ptoMs <= HeldValues.HoldMs(Signal.Pto);
            foreach (var track in tracks)
            {
                if (track.Take(sample, isStopped) is { } over)
                {
                    seen.Add(over);
                }
            }
        }

        seen.AddRange(tracks.Select(t => t.Now()).OfType<LimitSighting>());
        return seen;
    }
}
