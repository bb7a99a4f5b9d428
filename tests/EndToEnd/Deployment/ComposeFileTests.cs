using System.Text.RegularExpressions;
using Microsoft.Extensions.Configuration;
using Vanehour.Host.Settings;
using Vanehour.Ingest;
using YamlDotNet.RepresentationModel;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>docker/compose.yaml, as far as it can be checked without a container engine.</summary>
public sealed partial class ComposeFileTests
{
    private static readonly YamlMappingNode Compose = Load();

    public static TheoryData<string> Services() => new(Names());

    [Fact]
    public void ThereAreABrokerAWorkerAndAnInfluxDb() => Assert.Equal(["broker", "influxdb", "worker"], Names().Order());

    [Theory]
    [MemberData(nameof(Services))]
    public void AServiceIsPinnedUnprivilegedWatchedAndRestarted(string name)
    {
        var service = Service(name);
        Assert.Matches(PinnedImage(), Text(service, "image"));
        Assert.Matches(UserAndGroup(), Text(service, "user"));
        Assert.Equal(["ALL"], List(service, "cap_drop"));
        Assert.Contains("no-new-privileges:true", List(service, "security_opt"));
        Assert.Equal("unless-stopped", Text(service, "restart"));
        var health = Map(service, "healthcheck");
        Assert.Contains(List(health, "test")[0], new[] { "CMD", "CMD-SHELL" });
        Assert.All(new[] { "interval", "timeout", "start_period" }, k => Assert.Matches(Seconds(), Text(health, k)));
        Assert.Equal("json-file", Text(Map(service, "logging"), "driver"));
        Assert.False(service.Children.ContainsKey("privileged"));
        Assert.False(service.Children.ContainsKey("network_mode"));
    }

    [Theory]
    [MemberData(nameof(Services))]
    public void WhatAServiceRefersToIsThere(string name)
    {
        var service = Service(name);
        var volumes = Map(Compose, "volumes").Children.Keys.Select(k => k.ToString()).ToHashSet();
        foreach (var parts in List(service, "volumes").Select(v => v.Split(':')))
        {
            if (parts[0].StartsWith("./", StringComparison.Ordinal))
            {
                Assert.True(File.Exists(DeploymentFiles.PathOf(parts[0][2..])), parts[0]);
                Assert.Equal("ro", parts[2]);
            }
            else
            {
                Assert.Contains(parts[0], volumes);
            }
        }

        var secrets = Map(Compose, "secrets");
        foreach (var secret in List(service, "secrets"))
        {
            Assert.Equal($"./secrets/{secret}", Text(Map(secrets, secret), "file"));
        }

        // What it reads under /run/secrets is mounted for it.
        var used = SecretPath().Matches(service.ToString() + (name == "broker" ? DeploymentFiles.Text("mosquitto/mosquitto.conf") : "")).Select(m => m.Groups[1].Value).ToHashSet();
        Assert.NotEmpty(used);
        Assert.Equal(used.Order(), List(service, "secrets").Order());
    }

    [Theory]
    [MemberData(nameof(Services))]
    public void NoSecretStandsInAFile(string name)
    {
        if (!Service(name).Children.TryGetValue("environment", out var node))
        {
            return;
        }

        foreach (var (key, value) in ((YamlMappingNode)node).Children.Where(e => Secretive().IsMatch(e.Key.ToString())))
        {
            Assert.EndsWith("FILE", key.ToString(), StringComparison.Ordinal);
            Assert.StartsWith("/run/secrets/", value.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void TheWorkersEnvironmentIsSettingsThatExist()
    {
        var pairs = Map(Service("worker"), "environment").Children
            .Select(e => (Key: e.Key.ToString(), Value: e.Value.ToString()))
            .Select(e => KeyValuePair.Create(e.Key["VANEHOUR__".Length..].Replace("__", ":", StringComparison.Ordinal), (string?)e.Value));
        var options = SettingsFile.Bind<IngestOptions>(new ConfigurationBuilder().AddInMemoryCollection(pairs).Build(), IngestOptions.Section);
        Assert.Equal("broker", options.Broker.Host);
        Assert.Equal(8883, options.Broker.Port);
        Assert.Equal("/run/secrets/worker-password", options.PasswordFile);
        Assert.Equal("vanehour-worker", options.EffectiveClientId);
        Assert.Equal("service_healthy", Text(Map(Map(Service("worker"), "depends_on"), "broker"), "condition"));
        Assert.Equal("docker/Dockerfile", Text(Map(Service("worker"), "build"), "dockerfile"));
    }

    [Fact]
    public void WithInfluxDb_TheWorkerGetsSettingsThatExist_AndWaitsForAServerOfTheComposeFile()
    {
        var worker = Map(Map(Load("compose.influxdb.yaml"), "services"), "worker");
        var pairs = Map(worker, "environment").Children
            .Select(e => KeyValuePair.Create(e.Key.ToString()["VANEHOUR__".Length..].Replace("__", ":", StringComparison.Ordinal), (string?)e.Value.ToString()));
        var store = SettingsFile.Bind<StoreSettings>(new ConfigurationBuilder().AddInMemoryCollection(pairs).Build(), StoreSettings.Section);
        Assert.Equal(StoreKind.Influx, store.Kind);

        // As its first start sets the server up.
        var influxdb = Map(Service("influxdb"), "environment");
        Assert.Equal(Text(influxdb, "DOCKER_INFLUXDB_INIT_BUCKET"), store.Influx.Bucket);
        Assert.Equal(Text(influxdb, "DOCKER_INFLUXDB_INIT_ORG"), store.Influx.Org);
        Assert.Equal(new Uri("http://influxdb:8086"), new Uri(store.Influx.Url));
        Assert.Equal("service_healthy", Text(Map(Map(worker, "depends_on"), "influxdb"), "condition"));

        // The token is a secret of the same name that make-secrets.sh makes.
        var secret = Assert.Single(List(worker, "secrets"));
        Assert.Equal($"/run/secrets/{secret}", store.Influx.TokenFile);
        Assert.Equal($"./secrets/{secret}", Text(Map(Map(Load("compose.influxdb.yaml"), "secrets"), secret), "file"));
        Assert.Contains($" {secret}\n", DeploymentFiles.Text("make-secrets.sh"), StringComparison.Ordinal);
    }

    private static IEnumerable<string> Names() => Map(Compose, "services").Children.Keys.Select(k => k.ToString());

    private static YamlMappingNode Load(string name = "compose.yaml")
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(DeploymentFiles.Text(name)));
        return (YamlMappingNode)Assert.Single(stream.Documents).RootNode;
    }

    private static YamlMappingNode Service(string name) => Map(Map(Compose, "services"), name);

    private static YamlMappingNode Map(YamlMappingNode node, string key) => Assert.IsType<YamlMappingNode>(node[key]);

    private static string Text(YamlMappingNode node, string key) => Assert.IsType<YamlScalarNode>(node[key]).Value!;

    private static List<string> List(YamlMappingNode node, string key) =>
        [.. Assert.IsType<YamlSequenceNode>(node[key]).Children.Select(c => Assert.IsType<YamlScalarNode>(c).Value!)];

    [GeneratedRegex(@"^[a-z/.-]+:\d+\.\d+\.\d+$")]
    private static partial Regex PinnedImage();

    [GeneratedRegex(@"^[1-9]\d*:[1-9]\d*$")]
    private static partial Regex UserAndGroup();

    [GeneratedRegex(@"^\d+s$")]
    private static partial Regex Seconds();

    [GeneratedRegex(@"/run/secrets/([A-Za-z0-9.-]+)")]
    private static partial Regex SecretPath();

    [GeneratedRegex("PASSWORD|TOKEN|SECRET|KEY", RegexOptions.IgnoreCase)]
    private static partial Regex Secretive();
}
