using Vanehour.Ingest.Feed;

namespace Vanehour.Ingest.Tests;

public class IngestOptionsTests
{
    [Fact]
    public void Defaults_AreValid() => Assert.Empty(Problems(_ => { }));

    public static TheoryData<string, Action<IngestOptions>> Mistakes => new()
    {
        { "Host", o => o.Host = " " },
        { "Port", o => o.Port = 0 },
        { "Port", o => o.Port = 65536 },
        { "SessionExpiry", o => o.SessionExpiry = TimeSpan.FromSeconds(-1) },
        { "SessionExpiry", o => o.SessionExpiry = TimeSpan.Zero },
        { "KeepAlive", o => o.KeepAlive = TimeSpan.Zero },
        { "ConnectTimeout", o => o.ConnectTimeout = TimeSpan.Zero },
        { "RetryLongest", o => o.RetryLongest = TimeSpan.FromMilliseconds(1) },
        { "RetryFirst", o => o.RetryFirst = TimeSpan.Zero },
        { "DrainLimit", o => o.DrainLimit = TimeSpan.FromSeconds(-1) },
        { "ReceiveMaximum", o => o.ReceiveMaximum = 65536 },
        { "ReceiveMaximum", o => o.BatchMessages = 501 },
        { "BatchSamples", o => o.BatchSamples = 0 },
        { "BatchMessages", o => o.BatchMessages = 0 },
        { "BatchDelay", o => o.BatchDelay = TimeSpan.Zero },
        { "ChannelCapacity", o => o.ChannelCapacity = 0 },
        { "MaxPayloadBytes", o => o.MaxPayloadBytes = 0 },
        { "MaxPacketBytes", o => o.MaxPacketBytes = 256 * 1024 },
        { "MaxRecords", o => o.MaxRecords = 0 },
        { "MaxAhead", o => o.MaxAhead = TimeSpan.FromDays(1000) },
        { "MaxTrucks", o => o.MaxTrucks = 0 },
        { "RatePerSecond", o => o.RatePerSecond = -1 },
        { "RateBurst", o => o.RateBurst = 5 },
        { "not both", o => (o.User, o.Password, o.PasswordFile) = ("u", "p", typeof(IngestOptionsTests).Assembly.Location) },
        { "User", o => o.Password = "p" },
        { "PasswordFile", o => (o.User, o.PasswordFile) = ("u", "no-such-file") },
        { "CaFile", o => (o.Tls, o.CaFile) = (true, "no-such-file") },
        { "TLS", o => o.CaFile = typeof(IngestOptionsTests).Assembly.Location },
        { "ClientKeyFile", o => (o.Tls, o.ClientCertificateFile) = (true, typeof(IngestOptionsTests).Assembly.Location) },
        { "Topics", o => o.Topics.Add("fleet/+/pump") },
        { "ShareName", o => o.ShareName = "a/b" },
        { "Names", o => o.Names["x"] = "vacum" },
    };

    [Theory]
    [MemberData(nameof(Mistakes), DisableDiscoveryEnumeration = true)]
    public void Mistake_GetsOneSentenceThatNamesTheSetting(string setting, Action<IngestOptions> mistake)
    {
        var problem = Assert.Single(Problems(mistake));
        Assert.Contains(setting, problem, StringComparison.Ordinal);
        Assert.EndsWith(".", problem, StringComparison.Ordinal);
    }

    [Fact]
    public void ToString_MasksThePassword()
    {
        var text = new IngestOptions { User = "u", Password = "hunter2" }.ToString();

        Assert.DoesNotContain("hunter2", text, StringComparison.Ordinal);
        Assert.Contains("user u, password ***", text, StringComparison.Ordinal);
    }

    [Fact]
    public void ClientId_UnlessSet_IsTheMachinesAndTheShares()
    {
        Assert.Equal($"vanehour-{Environment.MachineName}-night", new IngestOptions { ShareName = "night" }.EffectiveClientId);
        Assert.Equal("mine", new IngestOptions { ShareName = "night", ClientId = "mine" }.EffectiveClientId);
    }

    [Fact]
    public void Port_UnlessSet_FollowsTls()
    {
        Assert.Equal(new BrokerAddress("localhost", 1883, false), new IngestOptions().Broker);
        Assert.Equal(new BrokerAddress("localhost", 8883, true), new IngestOptions { Tls = true }.Broker);
    }

    private static IEnumerable<string> Problems(Action<IngestOptions> configure)
    {
        var options = new IngestOptions();
        configure(options);
        return new IngestOptionsValidator().Validate(null, options).Failures ?? [];
    }
}
