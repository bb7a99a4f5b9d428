using System.Net;
using System.Net.Sockets;
using MQTTnet.Server;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Tests.Brokers;
using Vanehour.Tests.Loopback;

namespace Vanehour.Ingest.Tests.Worker;

/// <summary>What a person is told when the broker does not do as expected.</summary>
public class ConnectionTests
{
    [Fact]
    public async Task NoBroker_FailsFastWithASentence()
    {
        using var port = new ReservedPort();
        await using var worker = new WorkerRig(port.Number);
        var e = await FailureAsync(worker);

        Assert.Equal(BrokerFailure.Unreachable, e.Failure);
        Assert.StartsWith("The broker at mqtt://127.0.0.1:", e.Message, StringComparison.Ordinal);
        Assert.Contains("could not be reached", e.Message, StringComparison.Ordinal);
        Assert.Equal(e.Message, worker.Monitor.Snapshot().BrokerProblem);
        Assert.False(worker.Monitor.Snapshot().Running);
    }

    [Fact]
    public async Task SomethingThatIsNoBroker_FailsFastWithASentence()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        await using var worker = new WorkerRig(
            ((IPEndPoint)listener.LocalEndpoint).Port, configure: o => o.ConnectTimeout = TimeSpan.FromMilliseconds(300));
        var e = await FailureAsync(worker);

        Assert.Equal(BrokerFailure.Unreachable, e.Failure);
        Assert.EndsWith(".", e.Message, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task NoBrokerYet_IsWaitedFor_WhereSettingsSaySo()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await broker.StopAsync();
        await using var worker = new WorkerRig(broker, configure: o => o.FailFast = false);
        await worker.Worker.StartAsync(CancellationToken.None);
        await worker.UntilAsync(s => s.BrokerProblem is not null);
        await broker.StartAgainAsync();

        Assert.Null((await worker.UntilAsync(s => s.Connected)).BrokerProblem);
    }

    [SkippableFact]
    public async Task BadPassword_IsSaid_AndThePasswordIsNot()
    {
        await using var broker = await MosquittoBroker.StartAsync(new MosquittoSettings { User = "worker", Password = "right" });
        await using var worker = new WorkerRig(broker, configure: o => (o.User, o.Password) = ("worker", "wrong"));
        var e = await FailureAsync(worker);

        Assert.Equal(BrokerFailure.BadCredentials, e.Failure);
        Assert.Contains("refused the credentials of user 'worker'", e.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("wrong", e.Message, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task PasswordFromAFile_LetsTheWorkerIn()
    {
        var file = Path.GetTempFileName();
        await File.WriteAllTextAsync(file, "right\n");
        await using var broker = await MosquittoBroker.StartAsync(new MosquittoSettings { User = "worker", Password = "right" });
        await using var worker = new WorkerRig(broker, configure: o => (o.User, o.PasswordFile) = ("worker", file));
        await worker.StartAsync();
        File.Delete(file);

        Assert.True(worker.Monitor.Snapshot().Connected);
    }

    [Fact]
    public async Task SessionTakenOver_WhereTheBrokerSaysSo_StopsTheWorkerAtOnce()
    {
        var (server, port) = await StartServerAsync();
        using var end = server;
        await using var worker = new WorkerRig(port);
        await worker.StartAsync();
        await using var other = await TestPublisher.ConnectAsync(port, "worker");

        var e = await Assert.ThrowsAsync<BrokerException>(() => worker.Worker.ExecuteTask!.WaitAsync(WorkerRig.Patience));
        Assert.Equal(BrokerFailure.SessionTakenOver, e.Failure);
        Assert.Contains("client id 'worker'", e.Message, StringComparison.Ordinal);
        Assert.Equal(1, worker.Monitor.Snapshot().Connections);
        await other.PublishAsync(0, 1);
        await server.StopAsync();
    }

    [SkippableFact]
    public async Task SessionTakenOver_WhereTheBrokerJustCloses_EndsTheTugOfWar()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var one = new WorkerRig(broker);
        await using var two = new WorkerRig(broker);
        await one.StartAsync();

        // The two throw each other out from now on: neither need be seen connected.
        await two.Worker.StartAsync(CancellationToken.None);
        var loser = await Task.WhenAny(one.Worker.ExecuteTask!, two.Worker.ExecuteTask!).WaitAsync(WorkerRig.Patience);

        var e = await Assert.ThrowsAsync<BrokerException>(() => loser);
        Assert.Equal(BrokerFailure.SessionTakenOver, e.Failure);
        Assert.Contains("client id 'worker'", e.Message, StringComparison.Ordinal);

        // The other has the session to itself.
        var winner = loser == one.Worker.ExecuteTask ? two : one;
        await winner.UntilAsync(s => s.Connected);
        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 10);
        await winner.UntilAsync(s => s.MessagesAcknowledged == 10);
    }

    [SkippableFact]
    public async Task BrokerRestartedAgainAndAgain_IsNotTakenForATakeover()
    {
        await using var broker = await MosquittoBroker.StartAsync();
        await using var worker = new WorkerRig(broker, configure: o => o.RetryFirst = o.RetryLongest = TimeSpan.FromMilliseconds(1000));
        await worker.StartAsync();

        // Each time it is back before the worker tries again, so that no attempt fails.
        for (var i = 0; i < TakeoverWatch.Closures + 2; i++)
        {
            var connections = worker.Monitor.Snapshot().Connections;
            await broker.StopAsync();
            await broker.StartAgainAsync();
            await worker.UntilAsync(s => s.Connected && s.Connections > connections);
        }

        await using var truck = await TestPublisher.ConnectAsync(broker);
        await truck.PublishAsync(0, 10);
        await worker.UntilAsync(s => s.MessagesAcknowledged == 10);
    }

    [SkippableFact]
    public async Task Tls_WithTheRightAuthorityAndAClientCertificate_Connects()
    {
        using var authority = new TestAuthority();
        await using var broker = await MosquittoBroker.StartAsync(
            new MosquittoSettings { TlsFolder = authority.Folder, RequireClientCertificate = true });
        await using var worker = new WorkerRig(broker, configure: o =>
        {
            (o.Host, o.Tls, o.CaFile) = ("localhost", true, authority.CaFile);
            (o.ClientCertificateFile, o.ClientKeyFile) = (authority.ClientCertificateFile, authority.ClientKeyFile);
        });
        await worker.StartAsync();

        Assert.True(worker.Monitor.Snapshot().Connected);
    }

    [SkippableFact]
    public async Task Tls_WithAnotherAuthority_IsNotTrusted()
    {
        using var authority = new TestAuthority();
        using var stranger = new TestAuthority();
        await using var broker = await MosquittoBroker.StartAsync(new MosquittoSettings { TlsFolder = authority.Folder });
        await using var worker = new WorkerRig(broker, configure: o => (o.Host, o.Tls, o.CaFile) = ("localhost", true, stranger.CaFile));
        var e = await FailureAsync(worker);

        Assert.Equal(BrokerFailure.TlsFailed, e.Failure);
        Assert.Contains("could not be trusted", e.Message, StringComparison.Ordinal);
    }

    [SkippableFact]
    public async Task Tls_ToAnotherNameThanTheCertificates_IsNotTrusted()
    {
        using var authority = new TestAuthority("elsewhere.example");
        await using var broker = await MosquittoBroker.StartAsync(new MosquittoSettings { TlsFolder = authority.Folder });
        await using var worker = new WorkerRig(broker, configure: o => (o.Host, o.Tls, o.CaFile) = ("localhost", true, authority.CaFile));
        var e = await FailureAsync(worker);

        Assert.Equal(BrokerFailure.TlsFailed, e.Failure);
    }

    private static async Task<BrokerException> FailureAsync(WorkerRig worker)
    {
        await worker.Worker.StartAsync(CancellationToken.None);
        return await Assert.ThrowsAsync<BrokerException>(() => worker.Worker.ExecuteTask!.WaitAsync(WorkerRig.Patience));
    }

    private static async Task<(MqttServer Server, int Port)> StartServerAsync()
    {
        for (var attempt = 1; ; attempt++)
        {
            var port = FreePort.Choose();
            var server = new MqttServerFactory().CreateMqttServer(new MqttServerOptionsBuilder()
                .WithDefaultEndpoint().WithDefaultEndpointPort(port)
                .WithDefaultEndpointBoundIPAddress(IPAddress.Loopback).WithDefaultEndpointBoundIPV6Address(IPAddress.None)
                .WithPersistentSessions(true).Build());
            try
            {
                await server.StartAsync();
                return (server, port);
            }
            catch (SocketException) when (attempt < 5)
            {
                // Another took the port since it was chosen.
                server.Dispose();
            }
        }
    }
}
