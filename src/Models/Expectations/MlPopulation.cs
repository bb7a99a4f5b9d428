using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;
using MlRow = Vanehour.Models.Expectations.LearnedRow;

namespace Vanehour.Models.Expectations;

/// <summary>A regression by Microsoft.ML. Features are brought to mean 0 and standard deviation 1, the pump model is one column each; one thread, seeded.</summary>
internal sealed class MlPopulation : IPopulation
{
    // Small trees: a fleet has some thousands of runs, and what conditions do is smooth. Of our own.
    private const int Trees = 60;
    private const int Leaves = 8;
    private const int FewestInLeaf = 30;
    private const double LearningRate = 0.15;

    // Without it Sdca chooses a shrinkage by the number of rows, and slopes come out some per cent short. Of our own.
    private const float SdcaL2 = 1e-5f;
    private const int SdcaRounds = 60;

    private readonly (double Mean, double Sd)[] _scales;
    private readonly double _mean;
    private readonly double _sd;
    private readonly int _models;
    private readonly PredictionEngine<MlRow, LearnedScore> _engine;
    private readonly MlRow _row = new();

    private MlPopulation(CandidateKind kind, TrainingSet set, int seed)
    {
        var width = set.Fleet.Predictors.Length;
        _models = set.Fleet.PumpModels.Length > 1 ? set.Fleet.PumpModels.Length : 0;
        _scales = [.. Enumerable.Range(0, width).Select(j => Scale([.. set.Rows.Select(r => r.X[j])]))];
        (_mean, _sd) = Scale([.. set.Rows.Select(r => r.Y)]);
        var usual = set.Rows.Average(r => r.Weight);
        var context = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(MlRow));
        schema[nameof(MlRow.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, width + _models);
        var view = context.Data.LoadFromEnumerable(
            set.Rows.ConvertAll(r => new MlRow
            {
                Features = Features(r.Model, r.X),
                Label = (float)((r.Y - _mean) / _sd),
                Weight = (float)(r.Weight / usual),
            }),
            schema);
        ITransformer model = kind == CandidateKind.Sdca
            ? context.Regression.Trainers.Sdca(new SdcaRegressionTrainer.Options
            {
                ExampleWeightColumnName = nameof(MlRow.Weight),
                L1Regularization = 0,
                L2Regularization = SdcaL2,
                MaximumNumberOfIterations = SdcaRounds,
                NumberOfThreads = 1,
            }).Fit(view)
            : context.Regression.Trainers.FastTree(new FastTreeRegressionTrainer.Options
            {
                ExampleWeightColumnName = nameof(MlRow.Weight),
                NumberOfTrees = Trees,
                NumberOfLeaves = Leaves,
                MinimumExampleCountPerLeaf = FewestInLeaf,
                LearningRate = LearningRate,
                NumberOfThreads = 1,
                Seed = seed,
                FeatureSelectionSeed = seed,
            }).Fit(view);
        _engine = context.Model.CreatePredictionEngine<MlRow, LearnedScore>(model, inputSchemaDefinition: schema);
    }

    /// <summary>Learns; the set needs some rows.</summary>
    public static MlPopulation Learn(CandidateKind kind, TrainingSet set, int seed) => new(kind, set, seed);

    /// <inheritdoc/>
    public double Predict(int pumpModel, double[] x)
    {
        _row.Features = Features(pumpModel, x);
        return _mean + (_sd * _engine.Predict(_row).Score);
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
