using System.Text.Json;
using System.Threading.Channels;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging;
using MQTTnet;
using Vanehour.Fleet;
using Vanehour.Host.Composition;
using Vanehour.Host.Demo;
using Vanehour.Host.Serving;
using Vanehour.Ingest.Feed;
using Vanehour.Store.Tests.Influx;

namespace Vanehour.Host.Tests;

/// <summary>What serve does with a truck that holds too much vacuum: from stored samples to a retained message and a post, without an analysis.</summary>
public sealed class ServeFindingsTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task HeldTooLong_IsToldAtTheBrokerAndPosted_AndItsClosingToo()
    {
        using var cli = new CommandLine();
        var models = cli.File(
            "pump-models.csv",
            "model,rated_speed_rpm,min_speed_rpm,max_speed_rpm,free_air_cfm,max_vacuum_kpa,max_pressure_psi,max_temperature_degf,flow_kept_limit\nAlder 400,1200,1000,1400,400,60,20,350,0.75\n");
        var trucks = cli.File(
            "trucks.csv", "truck,yard,pump_model,pump_serial,pump_fitted,meter_at_fitting_h,tank_gal,time_zone\nT1,North,Alder 400,S-1,2026-01-05,100,3000,America/Chicago\n");
        Assert.Equal(ExitCode.Done, (await cli.RunAsync("import", models, trucks)).Code);

        var posts = Channel.CreateUnbounded<string>();
        await using var receiver = await LoopbackServer.StartAsync(async context =>
        {
            using var reader = new StreamReader(context.Request.Body);
            posts.Writer.TryWrite(await reader.ReadToEndAsync());
        });
        await using var broker = await EmbeddedBroker.StartAsync(null);
        var retained = Channel.CreateUnbounded<(string Topic, long Bytes)>();
        using var listener = new MqttClientFactory().CreateMqttClient();
        listener.ApplicationMessageReceivedAsync += e =>
        {
            retained.Writer.TryWrite((e.ApplicationMessage.Topic, e.ApplicationMessage.Payload.Length));
            return Task.CompletedTask;
        };
        await listener.ConnectAsync(new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", broker.Port).WithClientId("listener").Build());
        await listener.SubscribeAsync("fleet/+/finding/+", MQTTnet.Protocol.MqttQualityOfServiceLevel.AtLeastOnce);

        var now = TimeProvider.System.GetUtcNow();
        using (var data = DataFolder.Open(cli.Data))
        {
            await data.Samples.WriteAsync([.. Enumerable.Range(0, 100).Select(i => Held(now.AddSeconds((5 * i) - 500), 62))], default);
            var settings = new ConfigurationBuilder().AddInMemoryCollection(new Dictionary<string, string?>
            {
                ["Notices:Webhook"] = receiver.Url + "/hook",
                ["Notices:Every"] = "00:00:00.1",
                ["Watch:EveryS"] = "1",
            }).Build();
            using var host = WorkerHost.Build(
                data,
                settings,
                options =>
                {
                    options.SetBroker(new BrokerAddress("127.0.0.1", broker.Port, Tls: false));
                    options.ConnectTimeout = Patience;
                },
                TimeProvider.System,
                LogLevel.None,
                services => FindingServices.Read(settings).AddTo(services, data, brokerForgets: true));
            await host.StartAsync();

            using var opened = JsonDocument.Parse(await Next(posts));
            var id = opened.RootElement.GetProperty("id").GetString()!;
            Assert.Equal(("opened", "HeldAboveVacuumLimit", "Stop", "T1"), (Text(opened, "event"), Text(opened, "kind"), Text(opened, "urgency"), Text(opened, "truck")));
            var message = await Next(retained);
            Assert.Equal("fleet/T1/finding/HeldAboveVacuumLimit", message.Topic);
            Assert.True(message.Bytes > 0);

            // Somebody else closes it, in another process as far as serve can tell.
            Assert.Equal(ExitCode.Done, (await cli.RunAsync("findings", "close", id, "--cause", "ReliefStuck")).Code);
            using var closed = JsonDocument.Parse(await Next(posts));
            Assert.Equal(("closed", id, "ReliefStuck"), (Text(closed, "event"), Text(closed, "id"), Text(closed, "cause_found")));
            Assert.Equal(("fleet/T1/finding/HeldAboveVacuumLimit", 0L), await Next(retained));
            await host.StopAsync();
        }
    }

    private static string? Text(JsonDocument json, string name) => json.RootElement.GetProperty(name).GetString();

    private static Task<T> Next<T>(Channel<T> channel) => channel.Reader.ReadAsync().AsTask().WaitAsync(Patience);

    private static Sample Held(DateTimeOffset at, double vacuumKPa)
    {
        var values = SignalValues.Empty;
        values.Set(Signal.Vacuum, vacuumKPa);
        return new Sample("T1", at.ToUnixTimeMilliseconds(), values);
    }
}
