using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Vanehour.Ingest.Tests.Brokers;

/// <summary>A certificate authority for one test: writes its own, a server's and a client's certificate as PEM files into a folder.</summary>
public sealed class TestAuthority : IDisposable
{
    private static readonly DateTimeOffset From = TimeProvider.System.GetUtcNow().AddDays(-1);

    private readonly X509Certificate2 authority;
    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    /// <param name="serverName">The name in the server's certificate.</param>
    public TestAuthority(string serverName = "localhost")
    {
        Folder = Directory.CreateTempSubdirectory("vanehour-tls-").FullName;
        var request = new CertificateRequest("CN=Test authority", key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true));
        authority = request.CreateSelfSigned(From, From.AddDays(10));
        File.WriteAllText(CaFile, authority.ExportCertificatePem());
        Issue("server", serverName);
        Issue("client", "worker");
    }

    public string Folder { get; }

    public string CaFile => Path.Combine(Folder, "ca.pem");

    public string ClientCertificateFile => Path.Combine(Folder, "client.pem");

    public string ClientKeyFile => Path.Combine(Folder, "client-key.pem");

    public void Dispose()
    {
        authority.Dispose();
        key.Dispose();
        Directory.Delete(Folder, recursive: true);
    }

    /// <summary>Issues a certificate: writes NAME.pem and NAME-key.pem.</summary>
    public void Issue(string name, string commonName)
    {
        using var own = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest($"CN={commonName}", own, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName(commonName);
        request.CertificateExtensions.Add(names.Build());
        using var certificate = request.Create(authority, From, From.AddDays(5), RandomNumberGenerator.GetBytes(8));
        File.WriteAllText(Path.Combine(Folder, name + ".pem"), certificate.ExportCertificatePem());
        File.WriteAllText(Path.Combine(Folder, name + "-key.pem"), own.ExportPkcs8PrivateKeyPem());
    }
}
