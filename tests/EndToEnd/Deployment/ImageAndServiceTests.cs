using System.Text.Json;
using Microsoft.Extensions.Configuration;
using Vanehour.Host;
using Vanehour.Host.Settings;
using Vanehour.Ingest;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>docker/Dockerfile and docker/vanehour.service, as far as they can be checked without a container engine or an init system.</summary>
public sealed class ImageAndServiceTests
{
    [Fact]
    public void TheImageIsBuiltInStagesFromPinnedImagesAndRunsUnprivileged()
    {
        var steps = Steps();
        var from = steps.Where(s => s.Word == "FROM").Select(s => s.Arguments).ToList();
        Assert.Equal(2, from.Count);
        Assert.Matches(@"^mcr\.microsoft\.com/dotnet/sdk:10\.\d+\.\d+ AS build$", from[0]);
        Assert.Matches(@"^mcr\.microsoft\.com/dotnet/aspnet:10\.\d+\.\d+$", from[1]);
        var last = steps.Skip(steps.FindLastIndex(s => s.Word == "FROM")).ToList();
        Assert.Matches("^[1-9][0-9]*:[1-9][0-9]*$", Assert.Single(last, s => s.Word == "USER").Arguments);
        Assert.DoesNotContain(last, s => s.Word is "ADD" or "RUN");
        Assert.All(last.Where(s => s.Word == "COPY"), s => Assert.StartsWith("--from=build ", s.Arguments, StringComparison.Ordinal));
        Assert.Equal(["/app/vanehour"], Strings(Assert.Single(last, s => s.Word == "ENTRYPOINT").Arguments));
    }

    [Fact]
    public void ItsSdkIsOneThatTheRepositoryTakes()
    {
        var pinned = JsonDocument.Parse(DeploymentFiles.Text("global.json")).RootElement.GetProperty("sdk");
        var image = Steps().First(s => s.Word == "FROM").Arguments;
        var version = image[(image.LastIndexOf(':') + 1)..image.IndexOf(' ', StringComparison.Ordinal)];
        var wanted = Version.Parse(pinned.GetProperty("version").GetString()!);
        Assert.Equal("latestFeature", pinned.GetProperty("rollForward").GetString());
        Assert.Equal((wanted.Major, wanted.Minor), (Version.Parse(version).Major, Version.Parse(version).Minor));
        Assert.True(Version.Parse(version) >= wanted);
    }

    [Fact]
    public async Task ItsCommandsAreCommandsOfThisProgram()
    {
        var health = Strings(Steps().Single(s => s.Word == "HEALTHCHECK").Arguments.Split("CMD ")[1]);
        Assert.Equal("/app/vanehour", health[0]);
        foreach (var args in new[] { health[1..], Strings(Steps().Single(s => s.Word == "CMD").Arguments) })
        {
            using var output = new StringWriter();
            using var error = new StringWriter();
            var code = await Cli.RunAsync([.. args, "--help"], new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
            Assert.True(code == ExitCode.Done, error.ToString());
            Assert.Contains($"Example: vanehour {args[0]}", output.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void TheBuildSeesOnlyWhatIsNamed()
    {
        var lines = DeploymentFiles.Lines("Dockerfile.dockerignore").Where(l => l.Length > 0 && l[0] != '#').ToList();
        Assert.Equal("*", lines[0]);
        Assert.Contains("!src", lines);
        Assert.Contains("!simulator", lines);
        Assert.Contains("!Directory.Packages.props", lines);
        Assert.DoesNotContain("!docker", lines);
    }

    [Fact]
    public void TheServiceRunsUnprivilegedAndItsEnvironmentIsSettingsThatExist()
    {
        var lines = DeploymentFiles.Lines("vanehour.service").Where(l => l.Contains('=', StringComparison.Ordinal) && l[0] != '#').ToList();
        var settings = lines.Select(l => l.Split('=', 2)).ToLookup(p => p[0], p => p[1]);
        Assert.Equal("vanehour", Assert.Single(settings["User"]));
        foreach (var hardening in new[] { "NoNewPrivileges", "PrivateTmp", "PrivateDevices", "ProtectHome", "RestrictSUIDSGID", "ProtectKernelModules" })
        {
            Assert.Equal("true", Assert.Single(settings[hardening]));
        }

        Assert.Equal("strict", Assert.Single(settings["ProtectSystem"]));
        Assert.Equal("", Assert.Single(settings["CapabilityBoundingSet"]));
        Assert.Equal("on-failure", Assert.Single(settings["Restart"]));

        // The runtime writes machine code into memory and runs it: this would keep it from starting.
        Assert.Empty(settings["MemoryDenyWriteExecute"]);
        var environment = settings["Environment"].Select(e => e.Split('=', 2))
            .Select(p => KeyValuePair.Create(p[0]["VANEHOUR__".Length..].Replace("__", ":", StringComparison.Ordinal), (string?)p[1]));
        var options = SettingsFile.Bind<IngestOptions>(new ConfigurationBuilder().AddInMemoryCollection(environment).Build(), IngestOptions.Section);
        Assert.Equal("%d/broker-password", options.PasswordFile);
        Assert.StartsWith("broker-password:", Assert.Single(settings["LoadCredential"]), StringComparison.Ordinal);
        Assert.Equal($"/opt/vanehour/vanehour serve --data /var/lib/{Assert.Single(settings["StateDirectory"])}", Assert.Single(settings["ExecStart"]));
    }

    // Comments dropped, continued lines joined.
    private static List<(string Word, string Arguments)> Steps()
    {
        var text = string.Join('\n', DeploymentFiles.Lines("Dockerfile").Where(l => !l.StartsWith('#'))).Replace("\\\n", " ", StringComparison.Ordinal);
        return [.. text.Split('\n').Where(l => l.Length > 0).Select(l => l.Split(' ', 2)).Select(p => (p[0], p[1].Trim()))];
    }

    private static string[] Strings(string json) => JsonSerializer.Deserialize<string[]>(json)!;
}
