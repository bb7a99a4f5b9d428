using Vanehour.Bench.Faults.Brokers;
using Vanehour.Bench.Faults.Scenarios;
using Vanehour.Bench.Faults.Servers;

namespace Vanehour.EndToEnd;

/// <summary>The fault suite in small (all of it: <c>dotnet run --project bench/Faults -c Release</c>): the built executable as a process, a real broker, a link that breaks.</summary>
public sealed class FaultsTests
{
    [SkippableFact]
    public async Task WorkerKilledThreeTimesUnderLoad_EverythingAcknowledgedIsStoredExactlyOnce()
    {
        NeedBroker();
        AssertExact(await WorkerKills.RunAsync(kills: 3, seed: 1));
    }

    [SkippableFact]
    public async Task BrokerRestartedUnderLoad_EverythingAcknowledgedIsStoredExactlyOnce()
    {
        NeedBroker();
        AssertExact(await BrokerRestarts.RunAsync(restarts: 1, seed: 2));
    }

    [SkippableFact]
    public async Task NetworkCutUnderLoad_EverythingAcknowledgedIsStoredExactlyOnce()
    {
        NeedBroker();
        AssertExact(await NetworkFaults.CutsAsync(cuts: 1, seed: 3));
    }

    [SkippableFact]
    public async Task WithAnInfluxDb_WorkerKilledTwiceUnderLoad_EverythingAcknowledgedIsThereExactlyOnce()
    {
        NeedBroker();
        NeedServer();
        AssertExact(await WorkerKills.RunAsync(kills: 2, seed: 4, influx: true));
    }

    [SkippableFact]
    public async Task WithAnInfluxDb_ThatRefusesBreaksOffAndStalls_EverythingAcknowledgedIsThereExactlyOnce()
    {
        NeedBroker();
        NeedServer();
        AssertExact(await ServerFaults.FlappingAsync(rounds: 1, seed: 5));
    }

    private static void NeedServer()
    {
        var isMissing = Influxd.Program is null;
        Assert.False(
            isMissing && Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") == "1",
            "influxd is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
        Skip.If(isMissing, "influxd is not installed.");
    }

    private static void NeedBroker()
    {
        var isMissing = Mosquitto.Program is null;
        Assert.False(
            isMissing && Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") == "1",
            "mosquitto is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
        Skip.If(isMissing, "mosquitto is not installed.");
    }

    private static void AssertExact(FaultResult result)
    {
        Assert.Empty(result.Failures);
        Assert.True(result.Verdict!.IsExact, result.Verdict.ToString());

        // Something was at stake.
        Assert.True(result.Verdict.Expected > 1000, result.Verdict.ToString());
        Assert.Equal(result.Verdict.Expected, result.Verdict.Stored);
    }
}
