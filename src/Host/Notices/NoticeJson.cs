using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Vanehour.Host.Output;
using Vanehour.Models.Findings;
using Vanehour.Models.Results;

namespace Vanehour.Host.Notices;

/// <summary>Findings as other programs are told of them: the object of <c>findings --json</c>, on one line.</summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    UseStringEnumConverter = true,
    Converters = [typeof(UtcInstantConverter), typeof(SensibleDigitsConverter)])]
[JsonSerializable(typeof(Finding))]
[JsonSerializable(typeof(Dictionary<string, PublishedNotice>))]
public sealed partial class NoticeJson : JsonSerializerContext
{
    /// <summary>The finding's object.</summary>
    public static string Of(Finding finding) => JsonSerializer.Serialize(finding, Default.Finding);

    /// <summary>The finding's object with what became of it.</summary>
    public static string Of(Notice notice)
    {
        ArgumentNullException.ThrowIfNull(notice?.Finding);
        var json = JsonSerializer.SerializeToNode(notice.Finding, Default.Finding)!.AsObject();
        json["event"] = JsonValue.Create(notice.Event.ToString().ToLowerInvariant());
        return json.ToJsonString();
    }
}
