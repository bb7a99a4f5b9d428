using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Runs;

/// <summary>Makes runs of the samples of an engagement, and knows the runs before.</summary>
internal sealed class RunBuilder
{
    private readonly RunContext context;
    private readonly PumpDownReader pumpDowns;
    private readonly CheckHistory checks = new();
    private readonly RunTrace trace = new();
    private double? previousMeterEnd;
    private bool hasPrevious;

    public RunBuilder(RunContext context, IReadOnlyList<Run> before)
    {
        this.context = context;
        pumpDowns = new PumpDownReader(context);
        foreach (var run in before)
        {
            Follow(run);
        }
    }

    /// <summary>The end of the last run, Unix ms; far back when there is none.</summary>
    public long PreviousEndMs { get; private set; } = long.MinValue / 2;

    /// <summary>Builds the runs of the first <paramref name="count"/> samples; more than one where a silence is not bridged.</summary>
    public void Build(
        List<Sample> samples, int count, long startMs, long endMs, in HeldValues held, long firstHeardMs, bool inferred, bool endHeard, ICollection<Run> into)
    {
        var from = 0;
        var fromMs = startMs;
        var bridged = false;
        for (var i = 1; i < count; i++)
        {
            if (samples[i].UnixMs - samples[i - 1].UnixMs <= RunRules.SilenceMs)
            {
                continue;
            }

            if (IsContradicted(samples, from, i, count))
            {
                BuildOne(samples, from, i, fromMs, samples[i - 1].UnixMs, held, firstHeardMs, new Doubts(inferred, bridged, false), into);
                (from, fromMs, bridged) = (i, samples[i].UnixMs, false);
            }
            else
            {
                bridged = true;
            }
        }

        BuildOne(samples, from, count, fromMs, endMs, held, firstHeardMs, new Doubts(inferred, bridged, endHeard), into);
    }

    /// <summary>Looks for the nearest meter readings on both sides of the silence before sample <paramref name="at"/>.</summary>
    private static bool IsContradicted(List<Sample> samples, int from, int at, int count)
    {
        var before = at - 1;
        while (before >= from && double.IsNaN(samples[before].Values.Raw(Signal.PtoHours)))
        {
            before--;
        }

        var after = at;
        while (after < count && double.IsNaN(samples[after].Values.Raw(Signal.PtoHours)))
        {
            after++;
        }

        return before >= from && after < count && RunHours.Contradicts(
            samples[before].Values.Raw(Signal.PtoHours),
            samples[before].UnixMs,
            samples[after].Values.Raw(Signal.PtoHours),
            samples[after].UnixMs);
    }

    private void BuildOne(
        List<Sample> samples, int from, int to, long startMs, long endMs, in HeldValues held, long firstHeardMs, Doubts doubts, ICollection<Run> into)
    {
        // One lone sample is no engagement that anything could be said of.
        if (endMs <= startMs)
        {
            return;
        }

        trace.Load(samples, from, to, startMs, endMs, doubts.EndHeard, held);
        var start = DateTimeOffset.FromUnixTimeMilliseconds(startMs);
        var model = context.PumpModelAt(start);
        var standardKPa = context.StandardAmbient.Kilopascals;
        var stuck = SensorScreen.FindsStuck(trace);
        var spikes = SensorScreen.RemoveSpikes(trace, HighestAmbientKPa(standardKPa), model);
        var hours = RunHours.Of(trace);
        var oil = OilDraw.Of(trace);
        var features = RunFeatures.Of(trace, model);
        var ambientKPa = features.BaroMean ?? standardKPa;
        var rested = IsRested(startMs, firstHeardMs, hours.MeterStart);
        var run = new Run
        {
            Truck = context.Truck.Id,
            Start = start,
            End = DateTimeOffset.FromUnixTimeMilliseconds(endMs),
            HoursH = hours.Hours,
            MeterStartH = hours.MeterStart,
            MeterEndH = hours.MeterEnd,
            VacuumMeanKPa = features.VacuumMean,
            VacuumMaxKPa = RunFeatures.Max(trace[Signal.Vacuum]),
            MinutesAboveVacuumLimit = features.MinutesAboveLimit,
            PressureMaxKPa = RunFeatures.Max(trace[Signal.Pressure]),
            PumpTempMeanC = features.TempMean,
            PumpTempMaxC = RunFeatures.Max(trace[Signal.PumpTemp]),
            AmbientMeanC = features.AmbientMean,
            TempRiseK = features.TempRise,
            TempHuntingK = TemperatureHunting.Of(trace),
            SpeedMeanRpm = features.SpeedMean,
            SpeedOutsideShare = features.OutsideShare,
            OilUsedL = oil.Litres,
            BaroKPa = ambientKPa,
            Quality = new RunQuality(trace.Count, features.CoveredMs / (endMs - startMs), Notes(doubts, hours, oil, features, spikes, stuck)),
            FirstPumpDown = pumpDowns.Read(trace, model, ambientKPa, rested, checks),
        };
        Follow(run);
        into.Add(run);
    }

    /// <summary>
    /// Four hours since the last run, or since the truck was first heard; a meter that moved in the meantime says that the pump turned unheard. A meter that was not to be trusted
    /// in the last run, or that moved by more than the clock did, says nothing: it stood still, or is another one.
    /// </summary>
    private bool IsRested(long startMs, long firstHeardMs, double? meterStart)
    {
        var since = hasPrevious ? PreviousEndMs : firstHeardMs;
        var restedH = (startMs - since) / 3_600_000.0;
        var slackH = RunRules.CoarseMeterH + RunRules.MeterSlackH;
        return startMs - since >= RunRules.RestMs
            && !(previousMeterEnd is { } before && meterStart is { } now && now - before > slackH && now - before <= restedH + slackH);
    }

    private double HighestAmbientKPa(double standardKPa)
    {
        var initial = trace.Initial(Signal.Baro);
        var highest = RunFeatures.Max(trace[Signal.Baro]) ?? (double.IsNaN(initial) ? standardKPa : initial);
        return Math.Max(standardKPa, highest);
    }

    private void Follow(Run run)
    {
        hasPrevious = true;
        PreviousEndMs = run.End.ToUnixTimeMilliseconds();
        previousMeterEnd = run.Quality.Notes.Contains(RunNote.MeterDisagrees) ? null : run.MeterEndH;
        if (run.FirstPumpDown is { } pumpDown)
        {
            checks.Add(pumpDown);
        }
    }

    private static ImmutableArray<RunNote> Notes(Doubts doubts, RunHours hours, OilDraw oil, RunFeatures features, int spikes, bool stuck)
    {
        var notes = ImmutableArray.CreateBuilder<RunNote>();
        Note(doubts.Bridged, RunNote.GapBridged);
        Note(hours.Disagrees, RunNote.MeterDisagrees);
        Note(hours.Missing, RunNote.MeterMissing);
        Note(doubts.Inferred, RunNote.PtoInferred);
        Note(oil.Refilled, RunNote.OilRefilled);
        Note(features.SpeedMean is null, RunNote.SpeedMissing);
        Note(spikes > 0, RunNote.SpikesRemoved);
        Note(stuck, RunNote.SensorStuck);
        Note(!doubts.EndHeard, RunNote.EndNotHeard);
        return notes.ToImmutable();

        void Note(bool applies, RunNote note)
        {
            if (applies)
            {
                notes.Add(note);
            }
        }
    }

    private readonly record struct Doubts(bool Inferred, bool Bridged, bool EndHeard);
}
