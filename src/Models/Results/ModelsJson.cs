using System.Text.Json.Serialization;
using Vanehour.Models.Expectations;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Planning;
using Vanehour.Models.Regression;
using Vanehour.Models.Rounds;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Results;

/// <summary>Results as JSON: snake_case names, enums as their names, instants in UTC, unknown members refused, NaN impossible.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UseStringEnumConverter = true,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    Converters = [typeof(UtcInstantConverter)])]
[JsonSerializable(typeof(AnalysisHeader))]
[JsonSerializable(typeof(AnalysisSnapshot))]
[JsonSerializable(typeof(FittedModel))]
[JsonSerializable(typeof(ModelChoice))]
[JsonSerializable(typeof(IndicatorSeries))]
[JsonSerializable(typeof(WearForecast))]
[JsonSerializable(typeof(Finding))]
[JsonSerializable(typeof(Knowledge))]
[JsonSerializable(typeof(RebuildPlan))]
[JsonSerializable(typeof(PlanMark))]
[JsonSerializable(typeof(RoundTable))]
public sealed partial class ModelsJson : JsonSerializerContext;
