using OxyPlot;
using OxyPlot.Axes;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;

namespace Vanehour.Reports.Trucks;

/// <summary>Bins without a gap between them. Over a gap nothing is joined, so that a gap is seen as one.</summary>
internal sealed class BandStretch
{
    private readonly TimeBins bins;
    private readonly double end;

    private BandStretch(TruckScope scope, IReadOnlyList<BandBin> members)
    {
        bins = scope.Bins;
        end = scope.Time.Now;
        Bins = members;
    }

    public IReadOnlyList<BandBin> Bins { get; }

    /// <param name="scope">The page.</param>
    /// <param name="readings">In any order.</param>
    /// <param name="sameJudgement">Whether a stretch also ends where the band starts or stops being known.</param>
    public static IReadOnlyList<BandStretch> Of(TruckScope scope, IEnumerable<Reading> readings, bool sameJudgement)
    {
        var stretches = new List<BandStretch>();
        var current = new List<BandBin>();
        foreach (var bin in readings.GroupBy(r => scope.Bins.StartOf(r.At)).OrderBy(g => g.Key).Select(g => Mean(g.Key, [.. g])))
        {
            var joins = current.Count > 0
                && (bin.Start - scope.Bins.EndOf(current[^1].Start)).TotalDays <= Bridged(scope.Bins.Kind)
                && (!sameJudgement || (bin.High is null) == (current[^1].High is null));
            if (current.Count > 0 && !joins)
            {
                stretches.Add(new BandStretch(scope, current));
                current = [];
            }

            current.Add(bin);
        }

        if (current.Count > 0)
        {
            stretches.Add(new BandStretch(scope, current));
        }

        return stretches;
    }

    public void DrawBand(PlotModel model)
    {
        if (Bins[0].High is null)
        {
            return;
        }

        model.AddBand(Along(b => b.Low ?? b.Mid!.Value), Along(b => b.High!.Value), HouseStyle.Band);
        model.AddLine(Along(b => b.Mid ?? b.High!.Value), HouseStyle.BandEdge, 1.2, LineStyle.Dash);
    }

    public void DrawSeen(PlotModel model, ValueScale scale)
    {
        // Off the scale the line is broken: the single readings say what is there.
        model.AddLine(
            Bins.Select(b => new DataPoint(Middle(b), scale.Holds(b.Seen) ? b.Seen : double.NaN)),
            HouseStyle.Data,
            HouseStyle.DataLine);
    }

    // Weekends and a missed week are no gap worth breaking a line for; chosen.
    private static double Bridged(BinKind kind) => kind == BinKind.Day ? 4 : 7;

    private static BandBin Mean(DateTime start, List<Reading> readings)
    {
        var judged = readings.Where(r => r is { ExpectedLow: not null, Expected: not null, ExpectedHigh: not null }).ToList();
        return new BandBin(
            start,
            Weighted(readings, r => r.Seen),
            judged.Count == 0 ? null : Weighted(judged, r => r.ExpectedLow!.Value),
            judged.Count == 0 ? null : Weighted(judged, r => r.Expected!.Value),
            judged.Count == 0 ? null : Weighted(judged, r => r.ExpectedHigh!.Value));
    }

    private static double Weighted(List<Reading> readings, Func<Reading, double> value)
    {
        var hours = readings.Sum(r => r.Hours);
        return hours > 0 ? readings.Sum(r => r.Hours * value(r)) / hours : readings.Average(value);
    }

    private double Middle(BandBin bin) => Math.Min(bins.MiddleOf(bin.Start), end);

    // A flat start and end, so that a stretch of one bin still has a width.
    private List<DataPoint> Along(Func<BandBin, double> value) =>
    [
        new(DateTimeAxis.ToDouble(Bins[0].Start), value(Bins[0])),
        .. Bins.Select(b => new DataPoint(Middle(b), value(b))),
        new(Math.Min(DateTimeAxis.ToDouble(bins.EndOf(Bins[^1].Start)), end), value(Bins[^1])),
    ];
}
