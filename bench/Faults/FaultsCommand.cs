using System.CommandLine;
using System.Globalization;
using Vanehour.Bench.Faults.Brokers;
using Vanehour.Bench.Faults.Load;
using Vanehour.Bench.Faults.Reporting;
using Vanehour.Bench.Faults.Scenarios;
using Vanehour.Bench.Faults.Servers;

namespace Vanehour.Bench.Faults;

/// <summary>The command line of the fault suite.</summary>
internal static class FaultsCommand
{
    private const string SuiteArea = "faults";
    private const string InfluxArea = "faults-influx";
    private const string SettingsArea = "broker-settings";
    private const string LoadArea = "load";

    public static RootCommand Create()
    {
        var kills = new Option<int>("--kills") { Description = "How often the worker is killed; other faults strike in proportion.", DefaultValueFactory = _ => 50 };
        var seed = new Option<int>("--seed") { Description = "Decides what is sent and when faults strike.", DefaultValueFactory = _ => 1 };
        var packs = new Option<int>("--packs") { Description = "Packs of the load measurements.", DefaultValueFactory = _ => 100_000 };
        var only = new Option<string[]>("--only") { Description = "Only these: words of a fault's name." };
        var area = new Argument<string[]>("area")
        {
            Description = $"What to run: {SuiteArea}, {InfluxArea}, {LoadArea}, {SettingsArea}; default all but the last.",
            DefaultValueFactory = _ => [SuiteArea, InfluxArea, LoadArea],
        };
        area.AcceptOnlyFromAmong(SuiteArea, InfluxArea, LoadArea, SettingsArea);
        var output = new Option<string?>("--out") { Description = "Folder for the result files; none are written without it." };
        var root = new RootCommand(
            "Strikes real workers and a real mosquitto on loopback with faults and checks that every message the broker acknowledged is stored exactly once.\n\n"
            + "Example: dotnet run --project bench/Faults -c Release -- --kills 50 --out bench/results")
        {
            area, kills, seed, packs, only, output,
        };
        root.SetAction(async (parsed, cancellationToken) =>
        {
            if (Mosquitto.Program is null)
            {
                await Console.Error.WriteLineAsync("mosquitto is not installed; on Debian: apt-get install mosquitto mosquitto-clients");
                return 1;
            }

            var results = new ResultFiles(parsed.GetValue(output), await Machine.DescribeAsync());
            var good = true;
            var areas = parsed.GetValue(area)!;
            if (areas.Contains(SuiteArea))
            {
                good &= await SuiteAsync(SuiteArea, Local(parsed.GetValue(kills), parsed.GetValue(seed)), parsed.GetValue(seed), parsed.GetValue(only) ?? [], results, cancellationToken);
            }

            if (areas.Contains(InfluxArea))
            {
                if (Influxd.Program is null)
                {
                    await Console.Error.WriteLineAsync("influxd is not installed; on Debian: apt-get install influxdb");
                    return 1;
                }

                good &= await SuiteAsync(InfluxArea, Remote(parsed.GetValue(kills), parsed.GetValue(seed)), parsed.GetValue(seed), parsed.GetValue(only) ?? [], results, cancellationToken);
            }

            if (areas.Contains(SettingsArea))
            {
                results.Write(SettingsArea, await BrokerSettings.RunAsync(parsed.GetValue(seed)));
            }

            if (areas.Contains(LoadArea))
            {
                results.Write(LoadArea, await LoadMeasurement.RunAsync(parsed.GetValue(packs)));
            }

            return good ? 0 : 1;
        });
        return root;
    }

    // With an InfluxDB behind the outbox.
    private static (string Name, Func<Task<FaultResult>> Run)[] Remote(int kills, int seed)
    {
        var fifth = Math.Max(1, kills / 5);
        return
        [
            ("worker-kills", () => WorkerKills.RunAsync(kills, seed + 20, influx: true)),
            ("server-restarts", () => ServerFaults.RestartsAsync(fifth, kill: false, seed + 21)),
            ("server-kills", () => ServerFaults.RestartsAsync(fifth, kill: true, seed + 22)),
            ("server-flapping", () => ServerFaults.FlappingAsync(Math.Max(2, fifth / 2), seed + 23)),
            ("server-outage", () => ServerFaults.OutageAsync(TimeSpan.FromSeconds(Math.Max(6, 1.2 * kills)), seed + 24)),
            ("disk-full", () => DiskFull.RunAsync(Math.Max(2, fifth / 2), seed + 25, influx: true)),
        ];
    }

    private static (string Name, Func<Task<FaultResult>> Run)[] Local(int kills, int seed)
    {
        var fifth = Math.Max(1, kills / 5);
        return
        [
            ("worker-kills", () => WorkerKills.RunAsync(kills, seed)),
            ("broker-restarts", () => BrokerRestarts.RunAsync(fifth, seed + 1)),
            ("broker-kills-present", () => BrokerKills.WorkerPresentAsync(fifth, seed + 2)),
            ("broker-kills-away", () => BrokerKills.WorkerAwayAsync(fifth, seed + 3)),
            ("network-cuts", () => NetworkFaults.CutsAsync(2 * fifth, seed + 4)),
            ("network-delay", () => NetworkFaults.DelayAsync(TimeSpan.FromMilliseconds(400), TimeSpan.FromSeconds(15), seed + 5)),
            ("network-half-open", () => NetworkFaults.HalfOpenAsync(Math.Max(3, fifth / 2), seed + 6)),
            ("disk-full", () => DiskFull.RunAsync(Math.Max(2, fifth / 2), seed + 7)),
            ("clock-jumps", () => ClockJumps.RunAsync(fifth, seed + 8)),
            ("scale-out-two", () => ScaleOut.RunAsync(2, replace: false, seed + 9)),
            ("scale-out-four", () => ScaleOut.RunAsync(4, replace: true, seed + 10)),
            ("second-worker", () => SecondWorker.RunAsync(seed + 11)),
        ];
    }

    private static async Task<bool> SuiteAsync(
        string area, (string Name, Func<Task<FaultResult>> Run)[] faults, int seed, string[] only, ResultFiles files, CancellationToken cancellationToken)
    {
        var results = new List<FaultResult>();
        foreach (var (name, run) in faults.Where(f => only.Length == 0 || only.Any(o => f.Name.Contains(o, StringComparison.Ordinal))))
        {
            cancellationToken.ThrowIfCancellationRequested();
            var result = await run();
            results.Add(result);
            await Console.Error.WriteLineAsync(string.Create(
                CultureInfo.InvariantCulture, $"{name}: {(result.Verdict is null ? "not tried" : result.IsGood ? "ok" : "FAILED")} ({result.Took.TotalSeconds:0} s)"));
        }

        files.Write(area, FaultTable.Format(results), string.Create(CultureInfo.InvariantCulture, $"Seed {seed}."));
        return results.TrueForAll(r => r.IsGood);
    }
}
