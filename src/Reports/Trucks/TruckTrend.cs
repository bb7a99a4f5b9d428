using OxyPlot.Axes;
using Vanehour.Fleet.Units;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>The numbers behind a truck's page, by day, week or month as its bars are: for people who read tables, and for pages that show values under the pointer.</summary>
/// <param name="BinName">What a row is: day, week or month.</param>
/// <param name="Columns">Headings of the values, with units.</param>
/// <param name="Rows">In order of time; times without a run are left out.</param>
public sealed record TruckTrend(string BinName, IReadOnlyList<string> Columns, IReadOnlyList<TrendRow> Rows)
{
    /// <summary>The numbers of a page.</summary>
    /// <param name="data">What the page is drawn from.</param>
    /// <param name="options">How it is drawn.</param>
    public static TruckTrend Of(TruckReportData data, ReportOptions options)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(options);
        var scope = new TruckScope(data, options);
        var units = options.Units;
        var oil = DisplayUnits.SymbolOf(units.Oil);
        var runs = scope.Runs.Where(r => r.Start >= scope.Time.From).ToLookup(r => scope.Bins.StartOf(r.Start));
        var checks = InBins(scope, (data.Wear?.Checks ?? []).Select(c => (c.At, (c.FlowKept, c.Wear, c.PlateauKPa))));
        var rises = InBins(scope, (data.TemperatureRise?.Points ?? []).Select(p => (p.At, (p.Seen, p.RunHours))));
        var rates = InBins(scope, (data.OilUse?.Points ?? []).Select(p => (p.At, (p.Seen, p.RunHours))));
        return new TruckTrend(
            scope.Bins.Name,
            [
                "PTO hours, h", "Flow kept, % of new", $"Vacuum reached, {DisplayUnits.SymbolOf(units.Vacuum)}",
                $"Temperature over ambient, {DisplayUnits.SymbolOf(units.TemperatureDifference)}", $"Oil, {oil} per h", "Wear by checks (1 = limit)",
            ],
            [
                .. runs.Select(g => g.Key).Order().Select(start => new TrendRow(
                    DateWords.Day(start),
                    XOf(scope.Time, DateTimeAxis.ToDouble(start)),
                    XOf(scope.Time, DateTimeAxis.ToDouble(scope.Bins.EndOf(start))),
                    [
                        NumberWords.Fixed(runs[start].Sum(r => r.HoursH), 1),
                        Mean(checks[start], c => 100 * c.FlowKept, 0),
                        Mean(checks[start], c => units.VacuumOf(c.PlateauKPa), units.Vacuum == Unit.Kilopascal ? 1 : 2),
                        Mean(rises[start], p => units.TemperatureDifferenceOf(p.Seen), 0, p => p.RunHours),
                        Mean(rates[start], p => units.OilOf(p.Seen), 3, p => p.RunHours),
                        Mean(checks[start], c => c.Wear, 2),
                    ])),
            ]);
    }

    private static ILookup<DateTime, T> InBins<T>(TruckScope scope, IEnumerable<(DateTimeOffset At, T Value)> values) =>
        values.Where(v => v.At >= scope.Time.From && v.At <= scope.Time.AsOf).ToLookup(v => scope.Bins.StartOf(v.At), v => v.Value);

    private static string Mean<T>(IEnumerable<T> values, Func<T, double> of, int decimals, Func<T, double>? weight = null)
    {
        var (sum, weights) = values.Aggregate((0.0, 0.0), (s, v) => (s.Item1 + (of(v) * (weight?.Invoke(v) ?? 1)), s.Item2 + (weight?.Invoke(v) ?? 1)));
        return weights > 0 && double.IsFinite(sum) ? NumberWords.Fixed(sum / weights, decimals) : string.Empty;
    }

    private static double XOf(TimeScale time, double days) =>
        Math.Clamp(TruckReport.PlotLeft + ((days - time.Start) / (time.End - time.Start) * (HouseStyle.PageWidth - TruckReport.PlotLeft - TruckReport.PlotRight)), TruckReport.PlotLeft, HouseStyle.PageWidth - TruckReport.PlotRight);
}
