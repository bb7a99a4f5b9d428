using Microsoft.ML;
using Microsoft.ML.Data;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;
using Vanehour.Models.Expectations;

namespace Vanehour.Models.RemainingLife;

/// <summary>Remaining life as one candidate learned it from ended lives. One thread, seeded.</summary>
internal sealed class LifeRegression
{
    // Of our own, as usual for some thousands of rows.
    private const int Trees = 100;
    private const int Leaves = 16;
    private const double LearningRate = 0.1;
    private const double FeatureFraction = 0.4;
    private const double FeatureFractionPerSplit = 0.7;
    private const int ForestLeaves = 64;
    private const double ForestFeatureFraction = 0.5;
    private const int MostInLeaf = 30;
    private const int LeafShare = 50;
    private const float LineL2 = 1e-3f;
    private const float LineTolerance = 1e-4f;
    private const int LineRounds = 30;

    private readonly double cap;
    private readonly LifeCandidate candidate;
    private readonly HealthIndex index;
    private readonly (float Mean, float Sd)[] scales;
    private readonly PredictionEngine<LearnedRow, LearnedScore> engine;

    private LifeRegression(LifeCandidate candidate, double cap, HealthIndex index, (float Mean, float Sd)[] scales, PredictionEngine<LearnedRow, LearnedScore> engine)
    {
        this.candidate = candidate;
        this.cap = cap;
        this.index = index;
        this.scales = scales;
        this.engine = engine;
    }

    public static LifeRegression Learn(LifeCandidate candidate, IReadOnlyList<UnitHistory> units, RemainingLifeTask task, int seed)
    {
        var index = HealthIndex.Learn(units, task.Cap);
        var raw = new List<LearnedRow>();
        foreach (var unit in units)
        {
            var windows = new IndicatorWindows(unit, index.Of(unit), candidate.Windows);
            for (var t = task.FewestAges - 1; t < windows.Count; t++)
            {
                raw.Add(new LearnedRow { Features = windows.At(t), Label = (float)(Math.Min(task.Cap, unit.EndsAtAge!.Value - unit.Ages[t]) / task.Cap), Weight = 1 });
            }
        }

        var scales = Enumerable.Range(0, raw[0].Features.Length).Select(j => Scale([.. raw.Select(r => r.Features[j]).Where(float.IsFinite)])).ToArray();
        foreach (var row in raw)
        {
            Standardise(row.Features, scales);
        }

        var context = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(LearnedRow));
        schema[nameof(LearnedRow.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, scales.Length);
        var view = context.Data.LoadFromEnumerable(raw, schema);
        var inLeaf = Math.Clamp(raw.Count / LeafShare, 1, MostInLeaf);
        ITransformer model = candidate.Kind switch
        {
            LearnerKind.Line => context.Regression.Trainers.Sdca(new SdcaRegressionTrainer.Options
            {
                L1Regularization = 0,
                L2Regularization = LineL2,
                ConvergenceTolerance = LineTolerance,
                MaximumNumberOfIterations = LineRounds,
                NumberOfThreads = 1,
            }).Fit(view),
            LearnerKind.Forest => context.Regression.Trainers.FastForest(new FastForestRegressionTrainer.Options
            {
                NumberOfTrees = Trees,
                NumberOfLeaves = ForestLeaves,
                MinimumExampleCountPerLeaf = inLeaf,
                FeatureFraction = ForestFeatureFraction,
                NumberOfThreads = 1,
                Seed = seed,
                FeatureSelectionSeed = seed,
            }).Fit(view),
            _ => context.Regression.Trainers.FastTree(new FastTreeRegressionTrainer.Options
            {
                NumberOfTrees = Trees,
                NumberOfLeaves = Leaves,
                MinimumExampleCountPerLeaf = inLeaf,
                LearningRate = LearningRate,
                FeatureFraction = FeatureFraction,
                FeatureFractionPerSplit = FeatureFractionPerSplit,
                NumberOfThreads = 1,
                Seed = seed,
                FeatureSelectionSeed = seed,
            }).Fit(view),
        };
        return new LifeRegression(candidate, task.Cap, index, scales, context.Model.CreatePredictionEngine<LearnedRow, LearnedScore>(model, inputSchemaDefinition: schema));
    }

    /// <summary>What is left at each age from <paramref name="first"/> on, between 0 and the cap.</summary>
    public double[] Predict(UnitHistory unit, int first)
    {
        var windows = new IndicatorWindows(unit, index.Of(unit), candidate.Windows);
        var left = new double[Math.Max(0, windows.Count - first)];
        var row = new LearnedRow();

        // An engine of Microsoft.ML serves one thread at a time.
        lock (engine)
        {
            for (var i = 0; i < left.Length; i++)
            {
                row.Features = windows.At(first + i);
                Standardise(row.Features, scales);
                left[i] = Math.Clamp(engine.Predict(row).Score, 0, 1) * cap;
            }
        }

        return left;
    }

    private static void Standardise(float[] features, (float Mean, float Sd)[] scales)
    {
        for (var j = 0; j < features.Length; j++)
        {
            features[j] = float.IsFinite(features[j]) ? (features[j] - scales[j].Mean) / scales[j].Sd : 0;
        }
    }

    private static (float Mean, float Sd) Scale(float[] values)
    {
        if (values.Length == 0)
        {
            return (0, 1);
        }

        var mean = values.Average(v => (double)v);
        var sd = Math.Sqrt(values.Average(v => (v - mean) * (v - mean)));
        return ((float)mean, sd > 1e-9 * Math.Max(1, Math.Abs(mean)) ? (float)sd : 1);
    }
}
