namespace Vanehour.Models.Indicators;

/// <summary>How the level by which a pump is judged stands to its own reading and to its peers' median, in the indicator's unit.</summary>
/// <param name="FromOwn">The level less the pump's own reading.</param>
/// <param name="OwnSe">Standard error of the own reading.</param>
/// <param name="FromPeers">The level less the peers' median, at the same conditions; null with too few peers.</param>
/// <param name="PeersSe">Standard error of the peers' median.</param>
internal sealed record LevelGap(double FromOwn, double OwnSe, double? FromPeers, double PeersSe)
{
    private const int LatestRuns = 10;

    // An individuals chart is drawn from so many runs; the handbook's example has ten, three times that is steadier.
    private const int ChartRuns = 30;

    /// <summary>Both lenses on the latest runs; null without a judged run.</summary>
    public PumpLenses? Look(IReadOnlyList<JudgedRun> judged, double rho)
    {
        var latest = judged.Skip(Math.Max(0, judged.Count - LatestRuns)).ToList();
        if (latest.Count == 0)
        {
            return null;
        }

        var total = latest.Sum(r => 1 / (r.NoiseSd * r.NoiseSd));
        var mean = latest.Sum(r => r.Deviation / (r.NoiseSd * r.NoiseSd)) / total;
        var noiseVariance = (1 + rho) / (1 - rho) / total;
        return new PumpLenses(
            Reading(FromOwn, OwnSe),
            FromPeers is { } gap ? Reading(gap, PeersSe) : null,
            Outside(judged, latest));

        LensReading Reading(double shift, double se) => new(mean + shift, Math.Sqrt(noiseVariance + (se * se)), latest.Count);
    }

    private static int Outside(IReadOnlyList<JudgedRun> judged, List<JudgedRun> latest)
    {
        if (judged.Count < ChartRuns + latest.Count)
        {
            return 0;
        }

        var chart = IndividualsChart.Of([.. judged.Take(ChartRuns).Select(r => r.Deviation / r.NoiseSd)]);
        return latest.Count(r => r.Deviation / r.NoiseSd < chart.Low || r.Deviation / r.NoiseSd > chart.High);
    }
}
