namespace Vanehour.Models.Rounds;

/// <summary>When a check was last done, and how that is known.</summary>
/// <param name="At">The instant; a record with a date alone stands at the beginning of its local day.</param>
/// <param name="Evidence">How it is known.</param>
/// <param name="By">Who did it, where that was said.</param>
/// <param name="MeterH">PTO hours on the truck's meter, h; null where the data showed it.</param>
public sealed record RoundDone(DateTimeOffset At, RoundEvidence Evidence, string? By, double? MeterH);
