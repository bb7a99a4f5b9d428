using System.Globalization;
using Vanehour.Fleet;

namespace Vanehour.Models.Rounds;

/// <summary>A crew says that a round, or one check of it, was done.</summary>
/// <param name="Truck">The truck.</param>
/// <param name="What">The round, as daily, or the key of the check.</param>
/// <param name="At">When.</param>
/// <param name="MeterH">PTO hours on the truck's meter, h.</param>
/// <param name="By">Who.</param>
/// <param name="Note">What else there is to say; null for nothing.</param>
public sealed record RoundMark(string Truck, string What, DateTimeOffset At, double MeterH, string By, string? Note)
{
    /// <summary>The mark as a service record. Its id keeps two rounds of one day apart, and is the same for the same mark again.</summary>
    public ServiceRecord ToRecord() => new()
    {
        RecordId = string.Create(CultureInfo.InvariantCulture, $"round-{Truck}-{What}-{At.UtcDateTime:yyyyMMdd'T'HHmmss'Z'}"),
        Truck = Truck,
        At = At,
        MeterH = MeterH,
        Kind = ServiceKind.Round,
        Note = RoundNote.Write(What, By, Note),
    };
}
