using Vanehour.Models.Regression;

namespace Vanehour.Models.Analysis;

/// <summary>The kinds of documents an analysis keeps.</summary>
public static class ResultKind
{
    /// <summary>One <see cref="Results.AnalysisHeader"/>.</summary>
    public const string Header = "Header";

    /// <summary>Fitted models, by scope and name.</summary>
    public const string Model = "Model";

    /// <summary>What the indicators are judged by, by indicator: <see cref="Expectations.ModelChoice"/>.</summary>
    public const string Choice = "Choice";

    /// <summary>Indicator series, by truck and indicator.</summary>
    public const string Series = "Series";

    /// <summary>Wear forecasts, by truck.</summary>
    public const string Wear = "Wear";

    /// <summary>The key of a fitted model.</summary>
    public static string KeyOf(FittedModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return $"{model.Scope}/{model.Name}";
    }
}
