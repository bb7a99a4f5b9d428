using System.Diagnostics;
using Vanehour.Ingest.Tests.Brokers;

namespace Vanehour.EndToEnd.Deployment;

/// <summary>Secrets as compose mounts them, made for one test: a test authority's certificates, and passwords that are the user's name twice.</summary>
internal sealed class BrokerSecrets : IDisposable
{
    private static readonly string[] Users = ["vanehour-worker", "health", "T07", "T09"];

    private readonly TestAuthority authority = new();
    private readonly TestAuthority stranger = new();

    public BrokerSecrets()
    {
        ComposeBroker.Require();
        File.Copy(Path.Combine(authority.Folder, "server.pem"), Path.Combine(Folder, "broker.pem"));
        File.Copy(Path.Combine(authority.Folder, "server-key.pem"), Path.Combine(Folder, "broker-key.pem"));
        authority.Issue("T07", "T07");
        stranger.Issue("T07", "T07");
        var passwords = Path.Combine(Folder, "broker-passwords");
        File.WriteAllLines(passwords, Users.Select(u => $"{u}:{Password(u)}"));
        using var hashing = Process.Start("mosquitto_passwd", ["-U", passwords]);
        hashing.WaitForExit();
        Assert.Equal(0, hashing.ExitCode);
    }

    public string Folder => authority.Folder;

    public string CaFile => authority.CaFile;

    /// <summary>The folder of a certificate for T07 by an authority the broker does not know.</summary>
    public string Stranger => stranger.Folder;

    public static string Password(string user) => user + user;

    public void Dispose()
    {
        authority.Dispose();
        stranger.Dispose();
    }
}
