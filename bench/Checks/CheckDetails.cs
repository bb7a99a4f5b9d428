using System.Globalization;

namespace Vanehour.Bench.Checks;

/// <summary>Every check missed and every one recognised wrongly, line by line, to see what to mend.</summary>
internal static class CheckDetails
{
    public static void Run(IReadOnlyList<long> seeds, TextWriter output)
    {
        foreach (var seed in seeds)
        {
            foreach (var intervalS in new[] { 5, 2 })
            {
                foreach (var c in CheckStudy.Trucks(CheckStudy.Options(seed, intervalS, 24, 4), null, _ => true).SelectMany(t => t).Where(c => c.IsGood != c.IsRecognised))
                {
                    output.WriteLine(Line(intervalS, c));
                }
            }
        }
    }

    private static string Line(int intervalS, JudgedCheck c) => string.Create(
        CultureInfo.InvariantCulture,
        $"{intervalS} s {c.Run?.Truck ?? c.Truth?.Truck} {c.Truth?.At ?? c.Run?.Start:u} {(c.IsGood ? c.WhyMissed : c.WhatItWas)}, gas {c.Truth?.GasShare:F2}, wear {c.Wear:F2}, run {(c.Run?.End - c.Run?.Start)?.TotalSeconds:F0} s, plateau {c.PumpDown?.PlateauKPa:F1} of {c.PumpDown?.UltimateKPa:F1} kPa, relief {c.PumpDown?.EndedAtRelief}, residual {c.PumpDown?.ResidualKPa:F2} kPa, {c.PumpDown?.FittedSamples} fitted, net {c.PumpDown?.NetFlowPerVolumePerS * 1000:F3}");
}
