using System.Text.Json.Serialization;

namespace Vanehour.Board.People;

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower, UseStringEnumConverter = true, WriteIndented = true, UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow)]
[JsonSerializable(typeof(IReadOnlyList<Person>))]
internal sealed partial class PeopleJson : JsonSerializerContext;
