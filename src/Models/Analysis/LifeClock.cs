using System.Collections.Immutable;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Runs;

namespace Vanehour.Models.Analysis;

/// <summary>
/// Counts the PTO hours of one pump life: the hours of its runs, plus what the meter advanced where no run was heard, as far as that fits into the
/// time that passed. A meter that goes back or jumps ahead of the calendar adds nothing and is remarked on.
/// </summary>
public sealed class LifeClock
{
    // Readings are rounded to hundredths of an hour and starts are heard a little late: less than this is no gap.
    private const double MeterToleranceH = 0.05;

    private readonly DateTimeOffset[] _at;
    private readonly double[] _hoursH;

    private LifeClock(List<(DateTimeOffset At, double HoursH)> marks, double unexplainedH, ImmutableArray<string> remarks)
    {
        _at = [.. marks.Select(m => m.At)];
        _hoursH = [.. marks.Select(m => m.HoursH)];
        UnexplainedH = unexplainedH;
        Remarks = remarks;
    }

    /// <summary>Hours of the life up to its last run, h.</summary>
    public double TotalH => _hoursH[^1];

    /// <summary>How many of them the meter showed without a run, h.</summary>
    public double UnexplainedH { get; }

    /// <summary>What was doubted, in plain sentences.</summary>
    public ImmutableArray<string> Remarks { get; }

    /// <summary>Builds the clock of a life.</summary>
    /// <param name="life">The life.</param>
    /// <param name="runs">The runs of the life, in order.</param>
    /// <param name="records">The truck's service records; only replaced meters matter here.</param>
    public static LifeClock Build(Life life, IReadOnlyList<Run> runs, IEnumerable<ServiceRecord> records)
    {
        ArgumentNullException.ThrowIfNull(life);
        ArgumentNullException.ThrowIfNull(runs);
        ArgumentNullException.ThrowIfNull(records);

        var replaced = new Queue<ServiceRecord>(records
            .Where(r => r.Kind == ServiceKind.MeterReplaced && r.Value is not null && life.Covers(r.At))
            .OrderBy(r => r.At));
        var marks = new List<(DateTimeOffset, double)> { (life.FittedAt, 0) };
        var reading = life.MeterAtFittingH;
        var readAt = life.FittedAt;
        var coveredH = 0.0;
        double hoursH = 0, unexplainedH = 0;
        int wentBack = 0, jumped = 0;

        foreach (var run in runs)
        {
            while (replaced.TryPeek(out var swap) && swap.At <= run.Start)
            {
                replaced.Dequeue();
                Advance(swap.MeterH, swap.At);
                (reading, readAt, coveredH) = (ValueH(swap), swap.At, 0);
            }

            if (run.MeterStartH is { } start)
            {
                Advance(start, run.Start);
            }

            marks.Add((run.Start, hoursH));
            hoursH += run.HoursH;
            marks.Add((run.End, hoursH));
            if (run.MeterEndH is { } end)
            {
                (reading, readAt, coveredH) = (end, run.End, 0);
            }
            else
            {
                coveredH += run.HoursH;
            }
        }

        var remarks = ImmutableArray.CreateBuilder<string>();
        if (unexplainedH > 0.5)
        {
            remarks.Add(string.Create(CultureInfo.InvariantCulture, $"{unexplainedH:#,0} of the hours are known from the meter alone: no run was heard in them."));
        }

        if (wentBack + jumped > 0)
        {
            remarks.Add($"The meter went back {wentBack} times and jumped ahead of the calendar {jumped} times; the hours of runs count there.");
        }

        return new LifeClock(marks, unexplainedH, remarks.ToImmutable());

        void Advance(double toH, DateTimeOffset at)
        {
            var gapH = toH - reading - coveredH;
            var elapsedH = (at - readAt).TotalHours - coveredH;
            if (gapH < -MeterToleranceH)
            {
                wentBack++;
            }
            else if (gapH > Math.Max(elapsedH, 0) + MeterToleranceH)
            {
                jumped++;
            }
            else if (gapH > MeterToleranceH)
            {
                hoursH += gapH;
                unexplainedH += gapH;
            }

            (reading, readAt, coveredH) = (toH, at, 0);
        }
    }

    /// <summary>Hours of the life at an instant: counted inside runs and where the meter says so, level in between; 0 before fitting, level after the last run.</summary>
    public double HoursAt(DateTimeOffset at)
    {
        var i = Array.BinarySearch(_at, at);
        if (i >= 0)
        {
            // Several marks may share an instant; the last of them counts.
            while (i + 1 < _at.Length && _at[i + 1] == at)
            {
                i++;
            }

            return _hoursH[i];
        }

        var next = ~i;
        if (next == 0)
        {
            return 0;
        }

        if (next == _at.Length)
        {
            return _hoursH[^1];
        }

        var share = (at - _at[next - 1]) / (_at[next] - _at[next - 1]);
        return _hoursH[next - 1] + (share * (_hoursH[next] - _hoursH[next - 1]));
    }

    internal static double ValueH(ServiceRecord record) => record.ValueSi is { } s ? Unit(s) : record.Value!.Value;

    private static double Unit(double seconds) => Fleet.Units.Unit.Hour.FromSi(seconds);
}
