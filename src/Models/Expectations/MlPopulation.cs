using Microsoft.ML;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;
using Vanehour.Models.Regression;
using MlRow = Vanehour.Models.Expectations.LearnedRow;

namespace Vanehour.Models.Expectations;

/// <summary>A regression by Microsoft.ML. Features are brought to mean 0 and standard deviation 1, the pump model is one column each; one thread, seeded.</summary>
internal sealed class MlPopulation : IPopulation
{
    // Small trees: a fleet has some thousands of runs, and what conditions do is smooth. Of our own.
    private const int Trees = 50;
    private const int Leaves = 8;
    private const int FewestInLeaf = 10;
    private const double LearningRate = 0.15;
    private const double OutlierSd = 4;

    // Shrinks slopes by a thousandth; the trainer's own tolerance of a tenth would stop it long before it is where least squares is. Of our own.
    private const float SdcaL2 = 1e-3f;
    private const float SdcaTolerance = 1e-4f;
    private const int SdcaRounds = 30;

    private readonly (double Mean, double Sd)[] _scales;
    private readonly double _mean;
    private readonly double _sd;
    private readonly int _models;
    private readonly LearnedEngine _engine;

    private MlPopulation(CandidateKind kind, TrainingSet set, List<(int Model, double[] X, double Y, double Weight)> rows, int seed)
    {
        var width = set.Fleet.Predictors.Length;
        _models = set.Fleet.PumpModels.Length > 1 ? set.Fleet.PumpModels.Length : 0;
        _scales = [.. Enumerable.Range(0, width).Select(j => Scale([.. rows.Select(r => r.X[j])]))];
        (_mean, _sd) = Scale([.. rows.Select(r => r.Y)]);
        var usual = rows.Average(r => r.Weight);
        _engine = new LearnedEngine(
            rows.ConvertAll(r => new MlRow
            {
                Features = Features(r.Model, r.X),
                Label = (float)((r.Y - _mean) / _sd),
                Weight = (float)(r.Weight / usual),
            }),
            seed,
            trainers => kind == CandidateKind.Sdca
                ? trainers.Sdca(new SdcaRegressionTrainer.Options
                {
                    ExampleWeightColumnName = nameof(MlRow.Weight),
                    L1Regularization = 0,
                    L2Regularization = SdcaL2,
                    ConvergenceTolerance = SdcaTolerance,
                    MaximumNumberOfIterations = SdcaRounds,
                    NumberOfThreads = 1,
                })
                : trainers.FastTree(new FastTreeRegressionTrainer.Options
                {
                    ExampleWeightColumnName = nameof(MlRow.Weight),
                    NumberOfTrees = Trees,
                    NumberOfLeaves = Leaves,
                    MinimumExampleCountPerLeaf = FewestInLeaf,
                    LearningRate = LearningRate,
                    NumberOfThreads = 1,
                    Seed = seed,
                    FeatureSelectionSeed = seed,
                }));
    }

    /// <summary>
    /// Learns twice, the second time without the outliers that the first shows: those of a straight line may be the very bend that trees are there for.
    /// The set needs some rows.
    /// </summary>
    /// <param name="kind">Which trainer.</param>
    /// <param name="set">What to learn from.</param>
    /// <param name="seed">Of the trainer.</param>
    /// <param name="once">Whether the first time is enough: for a comparison it is, at half the cost.</param>
    public static MlPopulation Learn(CandidateKind kind, TrainingSet set, int seed, bool once)
    {
        var first = new MlPopulation(kind, set, set.Rows, seed);
        if (once)
        {
            return first;
        }

        var residuals = set.Rows.ConvertAll(r => Math.Sqrt(r.Weight) * (r.Y - first.Predict(r.Model, r.X)));
        var limit = OutlierSd * Robust.SpreadAboutZero(residuals);
        var kept = set.Rows.Where((_, i) => Math.Abs(residuals[i]) <= limit).ToList();
        return kept.Count == set.Rows.Count || kept.Count == 0 ? first : new MlPopulation(kind, set, kept, seed);
    }

    /// <inheritdoc/>
    public double Predict(int pumpModel, double[] x)
    {
        return _mean + (_sd * _engine.Predict(Features(pumpModel, x)));
    }

    private float[] Features(int pumpModel, double[] x)
    {
        var features = new float[x.Length + _models];
        for (var j = 0; j < x.Length; j++)
        {
            // What was not measured is taken at the mean.
            features[j] = double.IsNaN(x[j]) ? 0 : (float)((x[j] - _scales[j].Mean) / _scales[j].Sd);
        }

        if (_models > 0)
        {
            features[x.Length + pumpModel] = 1;
        }

        return features;
    }

    private static (double Mean, double Sd) Scale(double[] values)
    {
        var mean = values.Average();
        var sd = Math.Sqrt(values.Average(v => (v - mean) * (v - mean)));
        return (mean, sd > 0 ? sd : 1);
    }
}
