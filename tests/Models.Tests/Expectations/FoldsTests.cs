using Vanehour.Models.Expectations;
using Vanehour.Models.Indicators;
using Vanehour.Models.OilUse;

namespace Vanehour.Models.Tests.Expectations;

public sealed class FoldsTests
{
    private static readonly ExpectationOptions Expectation = new();
    private static readonly IndicatorDefinition Oil = OilUseIndicator.Define(Expectation.Shift);

    [Fact]
    public void Make_LearnsFromOtherTrucksAndThePastAlone()
    {
        var fleet = FleetRows.Of(Oil, MadeFleets.Of(9, 120).Data().Pumps, Expectation);
        var folds = Folds.Make(fleet, Expectation, new ChoiceOptions()).ToList();

        Assert.Equal(9, folds.Count);
        foreach (var fold in folds)
        {
            var heldOut = fold.Pumps.Select(p => fleet.TruckOf(p.Later[0])).ToHashSet(StringComparer.Ordinal);
            Assert.DoesNotContain(fold.Training, o => heldOut.Contains(fleet.TruckOf(o)));
            Assert.All(fold.Training, o => Assert.True(o.Run.End <= fold.Cut));
            Assert.All(fold.Pumps.SelectMany(p => p.Reference.Concat(p.Earlier)), o => Assert.True(o.Run.End <= fold.Cut));
            Assert.All(fold.Pumps.SelectMany(p => p.Later), o => Assert.True(o.Run.Start > fold.Cut));
            Assert.InRange(fold.Training.Count, Expectation.FewestRuns, new ChoiceOptions().MostTrainingRuns);
        }

        // Every truck is held out once at each cut, and no run is tried twice.
        Assert.All(folds.GroupBy(f => f.Cut), g => Assert.Equal(9, g.Sum(f => f.Pumps.Count)));
        var tried = folds.SelectMany(f => f.Pumps).SelectMany(p => p.Later).ToList();
        Assert.Equal(tried.Count, tried.Distinct().Count());
    }

    /// <summary>
    /// Each truck answers to vacuum in its own way, and a condition tells the truck. Who sees the truck's own runs predicts it far better; a comparison
    /// that leaks would choose trees for it, though they know nothing of a truck they have not seen.
    /// </summary>
    [Fact]
    public void APlantedTruckIdentity_PaysOnlyWhenFoldsLeak()
    {
        var definition = Oil with { Predictors = [.. Oil.Predictors, new Predictor("truck", "1", r => int.Parse(r.Truck[1..], System.Globalization.CultureInfo.InvariantCulture))] };
        var pumps = MadeFleets.Of(8, 70)
            .With(r => r with { OilUsedL = r.OilUsedL + (r.HoursH * 0.02 * (r.Truck[1] % 2 == 0 ? 1 : -1) * (r.VacuumMeanKPa!.Value - 45)) }).Pumps;
        var fleet = FleetRows.Of(definition, pumps, Expectation);
        var honest = Folds.Make(fleet, Expectation, new ChoiceOptions()).ToList();
        var leaky = honest.ConvertAll(f => f with { Training = Folds.Evenly([.. fleet.Observations.Where(o => o.Run.End <= f.Cut)], new ChoiceOptions().MostTrainingRuns) });

        var comparedHonestly = Compare(honest);
        var comparedLeaking = Compare(leaky);
        Assert.Equal(CandidateKind.FastTree, comparedLeaking.Chosen);
        Assert.NotEqual(CandidateKind.FastTree, comparedHonestly.Chosen);

        // The gain of the leak, by the honest error.
        Assert.True(Error(comparedLeaking) < 0.75 * Error(comparedHonestly));

        Comparison Compare(List<HeldOutFold> folds) =>
            Comparison.Of(fleet, CrossValidation.Run(fleet, folds, 1, CancellationToken.None), new ChoiceOptions())!;

        double Error(Comparison c) => c.Scores.Single(s => s.Kind == CandidateKind.FastTree).MeanAbsoluteError;
    }
}
