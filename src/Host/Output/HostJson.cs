using System.Text.Json.Serialization;
using Vanehour.Host.Moving;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.PumpLives;
using Vanehour.Models.Results;
using Vanehour.Models.VaneWear;
using Vanehour.Scoring.Drills;
using Vanehour.Scoring.Policies;

namespace Vanehour.Host.Output;

/// <summary>How the listings are written as JSON: snake_case names, enum names as strings, UTC instants, null for what does not exist.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UseStringEnumConverter = true,
    WriteIndented = true,
    Converters = [typeof(UtcInstantConverter), typeof(SensibleDigitsConverter)])]
[JsonSerializable(typeof(IReadOnlyList<TruckRow>))]
[JsonSerializable(typeof(IReadOnlyList<RunRow>))]
[JsonSerializable(typeof(IReadOnlyList<RejectRow>))]
[JsonSerializable(typeof(IReadOnlyList<ModelRow>))]
[JsonSerializable(typeof(IReadOnlyList<WearForecast>))]
[JsonSerializable(typeof(IReadOnlyList<Finding>))]
[JsonSerializable(typeof(IReadOnlyList<FindingScore>))]
[JsonSerializable(typeof(IReadOnlyList<CopiedTruck>))]
[JsonSerializable(typeof(IReadOnlyList<RoundRow>))]
[JsonSerializable(typeof(IReadOnlyList<ModelLife>))]
[JsonSerializable(typeof(IReadOnlyList<PumpLife>))]
[JsonSerializable(typeof(IReadOnlyList<PlannedJob>))]
[JsonSerializable(typeof(IReadOnlyList<WeekOption>))]
[JsonSerializable(typeof(IReadOnlyList<PlanMark>))]
[JsonSerializable(typeof(MondayDigest))]
[JsonSerializable(typeof(IReadOnlyList<HistoryCost>))]
[JsonSerializable(typeof(PolicyStudyResult))]
[JsonSerializable(typeof(IReadOnlyList<RecordRow>))]
[JsonSerializable(typeof(IReadOnlyList<RecordChangeRow>))]
[JsonSerializable(typeof(ComparisonJson))]
[JsonSerializable(typeof(EvaluationJson))]
[JsonSerializable(typeof(IReadOnlyList<DrillCaseRow>))]
[JsonSerializable(typeof(IReadOnlyList<DrillScoreRow>))]
[JsonSerializable(typeof(DrillInfo))]
[JsonSerializable(typeof(DrillReveal))]
public sealed partial class HostJson : JsonSerializerContext;
