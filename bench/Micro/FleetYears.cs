using System.Diagnostics;
using System.Globalization;
using Vanehour.Simulator;

namespace Vanehour.Bench;

/// <summary>How long a fleet's years take to simulate without publishing, and whether memory grows with them: the same fleet for one year and for four, side by side.</summary>
internal static class FleetYears
{
    private const int Trucks = 50;

    public static void Run(TextWriter output)
    {
        output.WriteLine("| truck-years | made | samples | s | s per truck-year | heap at most, MB |");
        output.WriteLine("| ---: | --- | ---: | ---: | ---: | ---: |");
        foreach (var months in new[] { 12, 48 })
        {
            Measure(output, months, "samples, on every core", f => f.Trucks.AsParallel().Sum(t => (long)f.Samples(t.Id).Count()));
        }

        Measure(output, 48, "register and truth", f =>
        {
            _ = f.Truth();
            return f.ServiceRecords.Length;
        });
    }

    private static void Measure(TextWriter output, int months, string what, Func<SimulatedFleet, long> make)
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = Trucks, Months = months });
        GC.Collect();
        using var stop = new CancellationTokenSource();
        long most = 0;
        var watcher = new Thread(() =>
        {
            while (!stop.Token.WaitHandle.WaitOne(200))
            {
                most = Math.Max(most, GC.GetTotalMemory(forceFullCollection: true));
            }
        });
        watcher.Start();
        var watch = Stopwatch.StartNew();
        var made = make(fleet);
        var seconds = watch.Elapsed.TotalSeconds;
        stop.Cancel();
        watcher.Join();
        var years = Trucks * months / 12;
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"| {years} | {what} | {(what.StartsWith("samples", StringComparison.Ordinal) ? made.ToString("N0", CultureInfo.InvariantCulture) : "-")} | {seconds:F1} | {seconds / years:F2} | {most / 1e6:F1} |"));
    }
}
