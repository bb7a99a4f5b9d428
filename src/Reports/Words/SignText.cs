using Vanehour.Models.Findings;

namespace Vanehour.Reports.Words;

/// <summary>Signs as short sentences.</summary>
public static class SignText
{
    /// <summary>One sign with its numbers.</summary>
    /// <param name="reading">The sign.</param>
    /// <param name="isTrade">Whether in the trade's units.</param>
    public static string Of(SignReading reading, bool isTrade)
    {
        var recent = EvidenceText.Of(new Evidence(Name(reading.Sign), reading.Recent, reading.Unit, null, null), isTrade);
        var usual = EvidenceText.Of(new Evidence(string.Empty, reading.Usual, reading.Unit, null, null), isTrade).TrimStart();
        return reading.State switch
        {
            SignState.Low => $"{recent}: low, was {usual}",
            SignState.High => $"{recent}: high, was {usual}",
            _ => $"{recent}: as before ({usual})",
        };
    }

    /// <summary>Several names.</summary>
    public static string Names(IEnumerable<Sign> signs) => string.Join(", ", signs.Select(Name));

    private static string Name(Sign sign) => sign switch
    {
        Sign.OilUse => "oil use",
        Sign.TemperatureRise => "temperature rise",
        Sign.TemperatureHunting => "restlessness of the temperature",
        Sign.Speed => "speed",
        Sign.NetFlow => "net flow in start-up checks",
        Sign.LeakRatio => "leak ratio",
        Sign.UltimateVacuum => "vacuum that checks approach",
        Sign.ReliefLift => "vacuum at which the relief valve lifts",
        Sign.WorkingVacuum => "highest vacuum at work",
        _ => sign.ToString(),
    };
}
