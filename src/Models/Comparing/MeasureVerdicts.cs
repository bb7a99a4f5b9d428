using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.Distributions;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Regression;
using Vanehour.Models.Survival;

namespace Vanehour.Models.Comparing;

/// <summary>
/// Turns the means of pump models into estimates with limits and verdicts on each pair: t tests with one spread from pump to pump, Holm's correction over the pairs of the
/// measure (Holm 1979), and how many pumps it takes to see a difference (Guenther, Am. Stat. 35 (1981) 243).
/// </summary>
/// <param name="Measure">The measure.</param>
/// <param name="PumpModels">Every model that is compared, in order of name.</param>
/// <param name="Known">The models that have a pump, in the order of <paramref name="Means"/>.</param>
/// <param name="Means">Their means.</param>
/// <param name="IsLog">Whether the means are logarithms.</param>
/// <param name="Options">How.</param>
internal sealed record MeasureVerdicts(
    ComparedMeasure Measure, IReadOnlyList<string> PumpModels, IReadOnlyList<string> Known, GroupMeans Means, bool IsLog, LifeOptions Options)
{
    private string What => Measure == ComparedMeasure.OilUse ? "oil use" : "wear";

    public MeasureComparison Compare(IReadOnlyDictionary<string, string> remarks, IEnumerable<string> common)
    {
        var values = PumpModels.Select(m => Value(m, remarks.GetValueOrDefault(m))).ToImmutableArray();
        var pairs = PumpModels.SelectMany((a, i) => PumpModels.Skip(i + 1).Select(b => (A: a, B: b))).ToList();
        var tests = pairs.ConvertAll(p => IsEnough(p.A) && IsEnough(p.B) ? Means.P(IndexOf(p.A), IndexOf(p.B)) : null);
        var adjusted = LifeComparer.Holm(tests);
        return new MeasureComparison(
            Measure, values, [.. pairs.Select((p, i) => Pair(p.A, p.B, adjusted[i], Math.Max(1, tests.Count(t => t is not null))))], [.. common]);
    }

    private int IndexOf(string model) => Known.TakeWhile(k => k != model).Count();

    private int Pumps(string model) => IndexOf(model) is var i && i < Known.Count ? Means.Counts[i] : 0;

    private bool IsEnough(string model) => Pumps(model) >= Options.FewestPumps;

    private double Mid(string model) => IsLog ? Math.Exp(Means.Means[IndexOf(model)]) : Means.Means[IndexOf(model)];

    private ModelMeasure Value(string model, string? remark)
    {
        ImmutableArray<string> remarks = remark is null ? [] : [remark];
        var pumps = Pumps(model);
        if (pumps == 0)
        {
            return new ModelMeasure(model, 0, null, [.. remarks, Measure == ComparedMeasure.OilUse ? "No pump has enough runs with oil measured." : "No pump has a wear forecast."]);
        }

        var group = IndexOf(model);
        var (mid, half) = (Means.Means[group], Means.HalfWidth(group, Options.Level));
        if (!IsEnough(model) || double.IsNaN(half))
        {
            return new ModelMeasure(
                model,
                pumps,
                new EstimateWithLimits(null, Mid(model), null),
                [.. remarks, pumps >= Options.FewestPumps ? $"No limits of {What}: there are no further pumps to tell the spread by." : $"{(pumps == 1 ? "One pump is" : $"{pumps} pumps are")} too few for limits of {What}; it takes {Options.FewestPumps}."]);
        }

        return new ModelMeasure(
            model,
            pumps,
            IsLog ? new EstimateWithLimits(Math.Exp(mid - half), Math.Exp(mid), Math.Exp(mid + half)) : new EstimateWithLimits(mid - half, mid, mid + half),
            remarks);
    }

    private MeasurePair Pair(string a, string b, double? p, int tests)
    {
        var needed = Needed(a, b, tests);
        if (p < Options.Significance)
        {
            return new MeasurePair(a, b, p, PairVerdict.Differs, needed, string.Create(
                CultureInfo.InvariantCulture,
                $"{a} and {b} differ in {What}: {Said(a)} against {Said(b)} (p {p:G2}{(tests > 1 ? $", corrected for {tests} pairs" : "")})."));
        }

        var ratio = string.Create(CultureInfo.InvariantCulture, $"rates that differ by a factor of {Options.LifeRatio:0.##}");
        var (na, nb) = (Pumps(a), Pumps(b));
        if (p is not null && needed is not null && 2.0 * na * nb / (na + nb) >= needed)
        {
            return new MeasurePair(a, b, p, PairVerdict.NoEvidence, needed, string.Create(
                CultureInfo.InvariantCulture,
                $"{a} and {b}: no evidence of a difference in {What} (p {p:G2}); {ratio} would have shown with a chance of {Options.Power:0 %} or more."));
        }

        var takes = needed is null ? "how many it takes cannot be said before the spread from pump to pump is known" : $"to see {ratio} it takes about {needed} of each";
        return new MeasurePair(a, b, p, PairVerdict.TooFewPumps, needed, $"{a} and {b}: too few pumps to say of {What}, with {na} and {nb}; {takes}.");
    }

    // Of logarithms a ratio is a difference; else it is taken about the geometric mean of the two, or the one that is known.
    private int? Needed(string a, string b, int tests)
    {
        var mids = new[] { a, b }.Where(m => Pumps(m) > 0).Select(Mid).Where(m => m > 0).ToArray();
        if (mids.Length == 0 || !(Means.UnitSd > 0))
        {
            return null;
        }

        var root = Math.Sqrt(Options.LifeRatio);
        var difference = IsLog ? Math.Log(Options.LifeRatio) : Math.Exp(mids.Average(Math.Log)) * (root - (1 / root));
        var z = Normal.InvCDF(0, 1, 1 - (Options.Significance / tests / 2));
        var both = z + Normal.InvCDF(0, 1, Options.Power);
        var needed = Math.Ceiling((2 * both * both * Means.UnitSd * Means.UnitSd / (difference * difference)) + (z * z / 4));
        return needed < 1e6 ? Math.Max((int)needed, Options.FewestPumps) : null;
    }

    private string Said(string model) => Mid(model).ToString("0.###", CultureInfo.InvariantCulture) + (Measure == ComparedMeasure.OilUse ? " L/h" : " per 1000 h");
}
