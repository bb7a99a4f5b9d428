using System.Text.Json.Serialization;

namespace Vanehour.Models.VaneWear;

/// <summary>A vane width measured in this life.</summary>
/// <param name="At">When, by its record.</param>
/// <param name="HoursSinceFitting">PTO hours of the life, h.</param>
/// <param name="WidthMm">As measured, mm.</param>
/// <param name="Wear">(new - width)/(new - limit).</param>
/// <param name="WearSe">Its standard error.</param>
public sealed record VaneWidth(
    DateTimeOffset At, double HoursSinceFitting, [property: JsonPropertyName("width_mm")] double WidthMm, double Wear, double WearSe);
