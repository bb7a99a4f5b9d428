using System.Globalization;
using Vanehour.Fleet.Runs;
using Vanehour.Models.Analysis;

namespace Vanehour.Models.Indicators;

/// <summary>Reads the runs of pumps as observations.</summary>
internal static class Observing
{
    /// <summary>A fit refuses NaN; a run that brings one counts as not measured.</summary>
    public static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    /// <summary>The runs that can be used, each weighing the less the less of it was covered, without predictors; what was left out is added to <paramref name="warnings"/>.</summary>
    public static List<IndicatorObservation> Observe(
        IndicatorDefinition definition, IReadOnlyList<PumpHistory> pumps, ExpectationOptions options, List<string> warnings)
    {
        var observations = new List<IndicatorObservation>();
        int shortOnes = 0, thin = 0, stuck = 0, missing = 0;
        for (var i = 0; i < pumps.Count; i++)
        {
            foreach (var run in pumps[i].Runs)
            {
                if (run.HoursH < options.ShortestRunH)
                {
                    shortOnes++;
                }
                else if (run.Quality.Coverage < options.LowestCoverage)
                {
                    thin++;
                }
                else if (run.Quality.Notes.Contains(RunNote.SensorStuck))
                {
                    // Whichever it was: it is the value, or a condition that the value is held against.
                    stuck++;
                }
                else if (Finite(definition.Seen(run)) is not { } seen)
                {
                    missing++;
                }
                else
                {
                    observations.Add(new IndicatorObservation(i, run, seen, definition.Weight(run) * run.Quality.Coverage, []));
                }
            }
        }

        if (shortOnes + thin + stuck + missing > 0)
        {
            warnings.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"{shortOnes + thin + stuck + missing} runs left out: {shortOnes} shorter than {options.ShortestRunH} h, {thin} with less than {options.LowestCoverage:P0} of their time covered, {(stuck > 0 ? $"{stuck} with a stuck sensor, " : string.Empty)}{missing} without {definition.Name}."));
        }

        return observations;
    }
}
