using System.Text.Json.Serialization;
using Vanehour.Board.Desk;

namespace Vanehour.Host.Pages;

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(DeskListing))]
internal sealed partial class DeskJson : JsonSerializerContext;
