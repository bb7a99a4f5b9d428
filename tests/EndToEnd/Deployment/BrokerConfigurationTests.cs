using MQTTnet;
using MQTTnet.Exceptions;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>The broker of docker/compose.yaml: who gets in, and who may do what.</summary>
public sealed class BrokerConfigurationTests
{
    [SkippableFact]
    public async Task NobodyGetsInWithoutTlsOrPassword()
    {
        using var secrets = new BrokerSecrets();
        await using var broker = await ComposeBroker.StartAsync(secrets.Folder);
        await Assert.ThrowsAnyAsync<MqttCommunicationException>(() => BrokerClient.ConnectAsync(broker.PasswordPort, null, "T07", BrokerSecrets.Password("T07")));
        foreach (var (user, password) in new[] { (null, null), ("T07", "wrong"), ("T08", "T08T08"), ("vanehour-worker", "") })
        {
            var (client, result) = await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, user, password);
            await using (client)
            {
                Assert.Contains(result, new[] { MqttClientConnectResultCode.NotAuthorized, MqttClientConnectResultCode.BadUserNameOrPassword });
            }
        }
    }

    [SkippableFact]
    public async Task TheCertificatePortTakesOnlyCertificatesOfTheFleetsAuthority()
    {
        using var secrets = new BrokerSecrets();
        await using var broker = await ComposeBroker.StartAsync(secrets.Folder);
        await RefusedAsync(null);
        await RefusedAsync(secrets.Stranger);
        var (client, result) = await BrokerClient.ConnectAsync(broker.CertificatePort, secrets.CaFile, identity: Identity(secrets.Folder));
        await using (client)
        {
            Assert.Equal(MqttClientConnectResultCode.Success, result);
        }

        // A password does not stand in for a certificate.
        async Task RefusedAsync(string? folder) => await Assert.ThrowsAnyAsync<Exception>(() => BrokerClient.ConnectAsync(
            broker.CertificatePort, secrets.CaFile, "T07", BrokerSecrets.Password("T07"), folder is null ? null : Identity(folder)));
    }

    [SkippableTheory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task ATruckPublishesToItsOwnTopicAndHearsNothing(bool hasCertificate)
    {
        using var secrets = new BrokerSecrets();
        await using var broker = await ComposeBroker.StartAsync(secrets.Folder);
        await using var worker = Admitted(await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "vanehour-worker", BrokerSecrets.Password("vanehour-worker")));
        await worker.SubscribeAsync("fleet/+/pump");
        foreach (var topic in new[] { "fleet/T09/pump", "fleet/T07/other", "fleet/T07", "fleet/t07/pump", "other", "fleet/T07/pump/deeper" })
        {
            await RefusedAsync(TruckAsync, topic);
        }

        await using var truck = await TruckAsync();
        await truck.SubscribeAsync("#");
        Assert.Equal(MqttClientPublishReasonCode.Success, await truck.PublishAsync("fleet/T07/pump"));
        await worker.WaitForAsync(1);
        Assert.Equal(["fleet/T07/pump"], worker.Received);
        Assert.Empty(truck.Received);

        async Task<BrokerClient> TruckAsync() => Admitted(hasCertificate
            ? await BrokerClient.ConnectAsync(broker.CertificatePort, secrets.CaFile, identity: Identity(secrets.Folder))
            : await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "T07", BrokerSecrets.Password("T07")));
    }

    [SkippableFact]
    public async Task TheWorkerSubscribesAloneOrSharedAndPublishesFindingsOnly()
    {
        using var secrets = new BrokerSecrets();
        await using var broker = await ComposeBroker.StartAsync(secrets.Folder);
        await using var truck = Admitted(await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "T09", BrokerSecrets.Password("T09")));
        foreach (var filter in new[] { "fleet/+/pump", "$share/yard/fleet/+/pump" })
        {
            await using var worker = await WorkerAsync();
            await worker.SubscribeAsync(filter);
            foreach (var topic in new[] { "fleet/T10/pump", "fleet/vanehour-worker/pump/x", "other" })
            {
                await RefusedAsync(WorkerAsync, topic);
            }

            await truck.PublishAsync("fleet/T09/pump");
            await worker.WaitForAsync(1);
            Assert.Equal(["fleet/T09/pump"], worker.Received);
        }

        await using var findings = await WorkerAsync();
        Assert.Equal(MqttClientPublishReasonCode.NoMatchingSubscribers, await findings.PublishAsync("fleet/T09/finding/RunningHot"));
        Assert.Equal(MqttClientPublishReasonCode.NoMatchingSubscribers, await findings.PublishAsync("fleet/finding/ForwardingBehind"));
        await RefusedAsync(() => TruckAsync(), "fleet/T09/finding/RunningHot");

        async Task<BrokerClient> TruckAsync() => Admitted(
            await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "T09", BrokerSecrets.Password("T09")));

        async Task<BrokerClient> WorkerAsync() => Admitted(
            await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "vanehour-worker", BrokerSecrets.Password("vanehour-worker")));
    }

    [SkippableFact]
    public async Task TheHealthCheckHearsTheBrokersUptimeAndNoTruck()
    {
        using var secrets = new BrokerSecrets();
        await using var broker = await ComposeBroker.StartAsync(secrets.Folder);
        await using var health = await HealthAsync();
        await health.SubscribeAsync("#");
        await health.SubscribeAsync("$SYS/broker/uptime");
        await using var truck = Admitted(await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "T09", BrokerSecrets.Password("T09")));
        await truck.PublishAsync("fleet/T09/pump");
        await health.WaitForAsync(1);
        Assert.All(health.Received, t => Assert.Equal("$SYS/broker/uptime", t));
        await RefusedAsync(HealthAsync, "other");

        async Task<BrokerClient> HealthAsync() =>
            Admitted(await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "health", BrokerSecrets.Password("health")));
    }

    [SkippableFact]
    public async Task WhatComesWhileTheWorkerIsAwayIsKeptOverARestartOfTheBroker()
    {
        const int Messages = 1500; // mosquitto's own default would keep 1 000.
        using var secrets = new BrokerSecrets();
        await using var broker = await ComposeBroker.StartAsync(secrets.Folder);
        await using (var worker = await WorkerAsync())
        {
            await worker.SubscribeAsync("fleet/+/pump");
        }

        await using (var truck = Admitted(await BrokerClient.ConnectAsync(broker.PasswordPort, secrets.CaFile, "T07", BrokerSecrets.Password("T07"))))
        {
            for (var i = 0; i < Messages; i++)
            {
                await truck.PublishAsync("fleet/T07/pump");
            }
        }

        await broker.StopAsync();
        await broker.StartAgainAsync();
        await using var again = await WorkerAsync();
        await again.WaitForAsync(Messages);
        Assert.Equal(Messages, again.Received.Count);

        async Task<BrokerClient> WorkerAsync() => Admitted(await BrokerClient.ConnectAsync(
            broker.PasswordPort, secrets.CaFile, "vanehour-worker", BrokerSecrets.Password("vanehour-worker"), session: "worker"));
    }

    private static BrokerClient Admitted((BrokerClient Client, MqttClientConnectResultCode Result) connection)
    {
        Assert.Equal(MqttClientConnectResultCode.Success, connection.Result);
        return connection.Client;
    }

    // Mosquitto 2.0.11 answers that it is not allowed and then closes the connection, which may come first.
    private static async Task RefusedAsync(Func<Task<BrokerClient>> connect, string topic)
    {
        await using var client = await connect();
        try
        {
            Assert.Equal(MqttClientPublishReasonCode.NotAuthorized, await client.PublishAsync(topic));
        }
        catch (MqttCommunicationException)
        {
            // Closed: the message is not among those the worker gets, as the caller sees.
        }
    }

    private static (string Certificate, string Key) Identity(string folder) => (Path.Combine(folder, "T07.pem"), Path.Combine(folder, "T07-key.pem"));
}
