using System.Globalization;
using Vanehour.Fleet.Runs;

namespace Vanehour.Bench.Checks;

/// <summary>
/// Whether stated standard errors are right: the difference of two good checks of a truck on following days over the error of that difference. What is constant of a
/// truck falls out, and wear moves by far less in a day.
/// </summary>
/// <param name="Pairs">How many.</param>
/// <param name="WithinOne">Share within one standard error; right errors give 0.683.</param>
/// <param name="WithinTwo">Share within two; right errors give 0.954.</param>
/// <param name="Spread">1.4826 times the median size; right errors give 1.</param>
internal sealed record ErrorCoverage(int Pairs, double WithinOne, double WithinTwo, double Spread)
{
    private static readonly TimeSpan Longest = TimeSpan.FromDays(4);

    public static ErrorCoverage Of(IEnumerable<IReadOnlyList<JudgedCheck>> trucks, Func<PumpDown, (double Value, double Se)?> estimate)
    {
        var z = new List<double>();
        foreach (var truck in trucks)
        {
            PumpDown? before = null;
            foreach (var check in truck.Where(c => c.IsGood && c.IsRecognised && c.Undisturbed).OrderBy(c => c.Truth!.At))
            {
                var now = check.PumpDown!;
                if (before is not null && now.Start - before.Start <= Longest && estimate(before) is { } a && estimate(now) is { } b)
                {
                    z.Add(Math.Abs(b.Value - a.Value) / Math.Sqrt((a.Se * a.Se) + (b.Se * b.Se)));

                    // Each check in one pair only: pairs that share one would not be independent.
                    before = null;
                    continue;
                }

                before = now;
            }
        }

        z.Sort();
        return new ErrorCoverage(
            z.Count,
            z.Count(v => v <= 1) / (double)z.Count,
            z.Count(v => v <= 2) / (double)z.Count,
            z.Count == 0 ? double.NaN : 1.4826 * z[z.Count / 2]);
    }

    public string Line(string name) => string.Create(CultureInfo.InvariantCulture, $"| {name} | {Pairs} | {WithinOne:F3} | {WithinTwo:F3} | {Spread:F2} |");
}
