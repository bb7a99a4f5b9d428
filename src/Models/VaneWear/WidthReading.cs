namespace Vanehour.Models.VaneWear;

/// <summary>A vane width measured in a life, as wear.</summary>
/// <param name="At">When.</param>
/// <param name="HoursH">Hours since fitting, h.</param>
/// <param name="WidthMm">As measured, mm.</param>
/// <param name="Wear">(new - width)/(new - limit).</param>
/// <param name="Sd">Its standard error.</param>
internal sealed record WidthReading(DateTimeOffset At, double HoursH, double WidthMm, double Wear, double Sd);
