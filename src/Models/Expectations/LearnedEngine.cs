using Microsoft.ML;
using Microsoft.ML.Data;

namespace Vanehour.Models.Expectations;

/// <summary>A regression of Microsoft.ML, learned from rows of features, ready to predict.</summary>
internal sealed class LearnedEngine
{
    private readonly PredictionEngine<LearnedRow, LearnedScore> engine;
    private readonly LearnedRow row = new();

    /// <summary>Learns.</summary>
    /// <param name="rows">One or more, all as wide as the first.</param>
    /// <param name="seed">Of what the trainer draws.</param>
    /// <param name="trainer">Makes the trainer.</param>
    public LearnedEngine(IReadOnlyList<LearnedRow> rows, int seed, Func<RegressionCatalog.RegressionTrainers, IEstimator<ITransformer>> trainer)
    {
        var context = new MLContext(seed);
        var schema = SchemaDefinition.Create(typeof(LearnedRow));
        schema[nameof(LearnedRow.Features)].ColumnType = new VectorDataViewType(NumberDataViewType.Single, rows[0].Features.Length);

        // Each part of a context draws its own seed when it is made, so the order of making them is part of the result.
        var view = context.Data.LoadFromEnumerable(rows, schema);
        var model = trainer(context.Regression.Trainers).Fit(view);
        engine = context.Model.CreatePredictionEngine<LearnedRow, LearnedScore>(model, inputSchemaDefinition: schema);
    }

    /// <summary>The prediction for some features.</summary>
    public float Predict(float[] features)
    {
        // An engine of Microsoft.ML serves one thread at a time.
        lock (engine)
        {
            row.Features = features;
            return engine.Predict(row).Score;
        }
    }
}
