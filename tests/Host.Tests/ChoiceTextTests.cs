using Vanehour.Host.Output;
using Vanehour.Models.Expectations;
using Vanehour.Models.Indicators;

namespace Vanehour.Host.Tests;

public sealed class ChoiceTextTests
{
    private static readonly ModelChoice Choice = new()
    {
        Indicator = Indicator.OilUse,
        Unit = "L/h",
        Status = ChoiceStatus.Compared,
        Chosen = CandidateKind.FastTree,
        Reason = "Because.",
        Trucks = 8,
        Runs = 900,
        Scores = [Score(CandidateKind.LeastSquares, 0.0881), Score(CandidateKind.FastTree, 0.0512)],
        Bands =
        [
            new BandCoverage { PumpModel = "RV-A", Level = 0.95, CalibrationRuns = 900, CalibrationTrucks = 8, HalfWidthSd = 2.1, HoldOutCoverage = 0.948, HoldOutCoverageSe = 0.006 },
            new BandCoverage { PumpModel = "RV-B", Level = 0.95, CalibrationRuns = 9, CalibrationTrucks = 1 },
        ],
        InControlRuns = 1e5,
    };

    [Fact]
    public void AChoiceNamesEveryCandidatesError() =>
        Assert.Equal("Because. Errors: LeastSquares 0.0881 (0.002); FastTree 0.0512 (0.002) L/h, 900 runs of 8 trucks.", ChoiceText.Of(Choice));

    [Fact]
    public void ABandSaysWhatItHeldOrThatItIsTheTs()
    {
        Assert.Equal("95 % by 2.10 sd of 900 runs held out; 94.8 % of them inside (0.6 %)", ChoiceText.OfBand(Choice, "RV-A"));
        Assert.Equal("95 % by the t distribution", ChoiceText.OfBand(Choice, "RV-B"));
        Assert.Null(ChoiceText.OfBand(Choice, "RV-C"));
        Assert.Null(ChoiceText.Of(null));
    }

    private static CandidateScore Score(CandidateKind kind, double error) => new()
    {
        Kind = kind,
        MeanAbsoluteError = error,
        MeanAbsoluteErrorSe = 0.002,
        RootMeanSquareError = error,
        RootMeanSquareErrorSe = 0.002,
        AgainstPeersError = error,
        BehindBest = 0,
        BehindBestSe = 0,
    };
}
