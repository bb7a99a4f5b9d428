namespace Vanehour.Ingest.Tests.Brokers;

/// <summary>How a test wants its broker.</summary>
public sealed record MosquittoSettings
{
    /// <summary>A whole configuration to start with, of which only the address and the folder are replaced; null: the tests' own.</summary>
    public string? BaseConfiguration { get; init; }

    /// <summary>The one user it lets in; null: anybody.</summary>
    public string? User { get; init; }

    /// <summary>The user's password.</summary>
    public string Password { get; init; } = "";

    /// <summary>Folder with <c>ca.pem</c>, <c>server.pem</c> and <c>server-key.pem</c>; null: no TLS.</summary>
    public string? TlsFolder { get; init; }

    /// <summary>Whether a client must show a certificate of the same authority.</summary>
    public bool RequireClientCertificate { get; init; }
}
