using Microsoft.ML;
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
    private readonly LearnedEngine engine;

    private LifeRegression(LifeCandidate candidate, double cap, HealthIndex index, (float Mean, float Sd)[] scales, LearnedEngine engine)
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

        var inLeaf = Math.Clamp(raw.Count / LeafShare, 1, MostInLeaf);
        return new LifeRegression(candidate, task.Cap, index, scales, new LearnedEngine(raw, seed, trainers => candidate.Kind switch
        {
            LearnerKind.Line => trainers.Sdca(new SdcaRegressionTrainer.Options
            {
                L1Regularization = 0,
                L2Regularization = LineL2,
                ConvergenceTolerance = LineTolerance,
                MaximumNumberOfIterations = LineRounds,
                NumberOfThreads = 1,
            }),
            LearnerKind.Forest => trainers.FastForest(new FastForestRegressionTrainer.Options
            {
                NumberOfTrees = Trees,
                NumberOfLeaves = ForestLeaves,
                MinimumExampleCountPerLeaf = inLeaf,
                FeatureFraction = ForestFeatureFraction,
                NumberOfThreads = 1,
                Seed = seed,
                FeatureSelectionSeed = seed,
            }),
            _ => trainers.FastTree(new FastTreeRegressionTrainer.Options
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
            }),
        }));
    }

    /// <summary>What is left at each age from <paramref name="first"/> on, between 0 and the cap.</summary>
    public double[] Predict(UnitHistory unit, int first)
    {
        var windows = new IndicatorWindows(unit, index.Of(unit), candidate.Windows);
        var left = new double[Math.Max(0, windows.Count - first)];
        for (var i = 0; i < left.Length; i++)
        {
            var features = windows.At(first + i);
            Standardise(features, scales);
            left[i] = Math.Clamp(engine.Predict(features), 0, 1) * cap;
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
