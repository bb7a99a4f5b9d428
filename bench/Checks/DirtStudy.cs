namespace Vanehour.Bench.Checks;

/// <summary>What dirt in the telemetry does to runs.</summary>
internal static class DirtStudy
{
    public static void Run(IReadOnlyList<long> seeds, TextWriter output) => output.WriteLine(seeds.Count);
}
