using System.Net;

namespace Vanehour.Board;

/// <summary>Where the Board listens and who may see it, settings section <c>Board</c>.</summary>
public sealed class BoardOptions
{
    /// <summary>The section's name.</summary>
    public const string Section = "Board";

    /// <summary>The address it listens on: this machine alone unless set otherwise.</summary>
    public string Address { get; set; } = "127.0.0.1";

    /// <summary>The port, 0 to 65535; 0 takes any free one.</summary>
    public int Port { get; set; } = 8460;

    /// <summary>Whether 'serve' shows the Board at all.</summary>
    public bool Enabled { get; set; } = true;

    /// <summary>A certificate for HTTPS: a PKCS #12 file, or the PEM file of a certificate whose key is in <see cref="CertificateKey"/>; null: plain HTTP.</summary>
    public string? Certificate { get; set; }

    /// <summary>The PEM file of the certificate's key.</summary>
    public string? CertificateKey { get; set; }

    /// <summary>A file whose first line is the password of the certificate.</summary>
    public string? CertificatePasswordFile { get; set; }

    /// <summary>Whether a reverse proxy on this machine, or at <see cref="Proxies"/>, stands in front and speaks TLS with the browsers.</summary>
    public bool BehindProxy { get; set; }

    /// <summary>IP addresses of proxies that are believed what they say of a request's origin; loopback always is.</summary>
    public IList<string> Proxies { get; } = [];

    /// <summary>The names by which browsers may call it; loopback names always may.</summary>
    public IList<string> Hosts { get; } = [];

    /// <summary>Hours for which somebody stays signed in without doing anything, 1 to 720.</summary>
    public int SignedInHours { get; set; } = 12;

    /// <summary>Tries to sign in from one address in five minutes, 1 to 100.</summary>
    public int SignInTries { get; set; } = 10;

    /// <summary>Whether only this machine can reach it.</summary>
    public bool IsLoopback => IPAddress.TryParse(Address, out var address) && IPAddress.IsLoopback(address);

    /// <summary>Whether other machines can reach it, by themselves or through a proxy.</summary>
    public bool IsReachable => !IsLoopback || BehindProxy;

    /// <summary>Whether browsers speak TLS with it, or with the proxy before it.</summary>
    public bool IsEncrypted => Certificate is not null || BehindProxy;

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!IPAddress.TryParse(Address, out _))
        {
            yield return $"Address must be an IP address, as 127.0.0.1 or 0.0.0.0; '{Address}' is none.";
        }

        if (Port is < 0 or > 65535)
        {
            yield return "Port must lie between 0 and 65535.";
        }

        if (SignedInHours is < 1 or > 720 || SignInTries is < 1 or > 100)
        {
            yield return "SignedInHours must lie between 1 and 720, SignInTries between 1 and 100.";
        }

        if (Proxies.FirstOrDefault(p => !IPAddress.TryParse(p, out _)) is { } proxy)
        {
            yield return $"Proxies must be IP addresses; '{proxy}' is none.";
        }

        if (CertificateKey is not null && Certificate is null)
        {
            yield return "CertificateKey is set without Certificate.";
        }

        if (!IsLoopback && Certificate is null && !BehindProxy)
        {
            yield return "Passwords must not travel in the clear: to listen on other addresses than loopback set Certificate, or BehindProxy where a proxy speaks TLS.";
        }

        if (IsReachable && Hosts.Count == 0)
        {
            yield return "Hosts must say by which names browsers call the Board, as [\"board.yard.example\"].";
        }
    }
}
