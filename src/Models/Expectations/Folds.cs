using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

//     time --->        cut
//     other trucks  ====|          learned from
//     held-out truck ---|          its own level and noise, nothing else
//                       |=====     predicted and compared

/// <summary>Grouped and time-forward: trucks are held out in groups, and only the past is learned from.</summary>
internal static class Folds
{
    // Each tries the runs up to the next. An analysis is made every day, on all that came before: a long look ahead would ask of a slope learned
    // in winter what it says of summer, which nobody asks of it.
    private static readonly double[] Cuts = [0.55, 0.7, 0.85];

    // A standard deviation of so many runs is known to a twentieth.
    private const int NoiseRuns = 200;

    public static IEnumerable<HeldOutFold> Make(FleetRows fleet, ExpectationOptions expectation, ChoiceOptions options)
    {
        var instants = fleet.Observations.Select(o => o.Run.End).Order().ToList();
        var groupOf = Groups(fleet, options.Folds);
        for (var c = 0; c < Cuts.Length; c++)
        {
            var cut = instants[(int)(Cuts[c] * (instants.Count - 1))];
            var until = c + 1 < Cuts.Length ? instants[(int)(Cuts[c + 1] * (instants.Count - 1))] : DateTimeOffset.MaxValue;
            for (var group = 0; group < options.Folds; group++)
            {
                var training = fleet.Observations.Where(o => groupOf[fleet.TruckOf(o)] != group && o.Run.End <= cut).ToList();
                var pumps = fleet.Observations.Where(o => groupOf[fleet.TruckOf(o)] == group).GroupBy(o => o.Pump)
                    .Select(g => HeldOut([.. g], cut, until, expectation)).OfType<HeldOutPump>().ToList();
                if (training.Count >= expectation.FewestRuns && pumps.Count > 0)
                {
                    yield return new HeldOutFold(cut, Evenly(training, options.MostTrainingRuns), pumps);
                }
            }
        }
    }

    /// <summary>By truck; trucks with the same pump model are spread over the groups.</summary>
    public static Dictionary<string, int> Groups(FleetRows fleet, int groups) => fleet.Pumps
        .OrderBy(p => p.Model.Model, StringComparer.Ordinal).ThenBy(p => p.Truck.Id, StringComparer.Ordinal)
        .Select(p => p.Truck.Id).Distinct(StringComparer.Ordinal)
        .Select((truck, i) => (truck, i)).ToDictionary(t => t.truck, t => t.i % groups, StringComparer.Ordinal);

    /// <summary>At most so many, taken evenly.</summary>
    public static List<IndicatorObservation> Evenly(List<IndicatorObservation> all, int most) => all.Count <= most
        ? all
        : [.. Enumerable.Range(0, most).Select(i => all[(int)((long)i * all.Count / most)])];

    private static HeldOutPump? HeldOut(List<IndicatorObservation> runs, DateTimeOffset cut, DateTimeOffset until, ExpectationOptions expectation)
    {
        var earlier = runs.Where(o => o.Run.End <= cut).ToList();
        var beforeH = 0.0;
        var reference = new List<IndicatorObservation>();
        foreach (var o in earlier.TakeWhile(_ => beforeH < expectation.OwnReferenceH))
        {
            reference.Add(o);
            beforeH += o.Run.HoursH;
        }

        var later = runs.Where(o => o.Run.Start > cut && o.Run.End <= until).ToList();
        return beforeH >= expectation.YoungestOwnH && later.Count > 0 ? new HeldOutPump(reference, Evenly(earlier, NoiseRuns), later) : null;
    }
}
