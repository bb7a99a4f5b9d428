using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Vanehour.Board.Tests.Running;
using Vanehour.Host;

namespace Vanehour.Board.Tests.Security;

/// <summary>A Board that others can reach.</summary>
[Collection(OnDemoFleet.Name)]
public sealed class ReachTests(DemoFleet demo)
{
    [Fact]
    public async Task ItDoesNotStartWhereOthersCouldReachItUnguarded()
    {
        var folder = demo.Copy();
        var (certificate, key, _) = MakeCertificate(folder);
        (string, string)[] open = [("Board__Address", "0.0.0.0"), ("Board__Hosts__0", "localhost")];
        var (code, error) = await RunningBoard.RefusedAsync(folder, open);
        Assert.Equal(ExitCode.Failed, code);
        Assert.Contains("Passwords must not travel in the clear", error, StringComparison.Ordinal);

        (_, error) = await RunningBoard.RefusedAsync(folder, [.. open, ("Board__Certificate", certificate), ("Board__CertificateKey", key)]);
        Assert.Contains("somebody must be able to sign in", error, StringComparison.Ordinal);

        await CommandLine.AddPersonAsync(folder, "Ann", "seven green lorries", "editor");
        (_, error) = await RunningBoard.RefusedAsync(folder, [open[0], ("Board__Certificate", certificate), ("Board__CertificateKey", key)]);
        Assert.Contains("Hosts must say", error, StringComparison.Ordinal);

        (_, error) = await RunningBoard.RefusedAsync(folder, [.. open, ("Board__Certificate", certificate + ".none"), ("Board__CertificateKey", key)]);
        Assert.Contains("cannot be read", error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WithACertificateCookiesTravelOverTlsAlone_AndNobodyLeftOpensItToNobody()
    {
        var folder = demo.Copy();
        var (certificate, key, fingerprint) = MakeCertificate(folder);
        await CommandLine.AddPersonAsync(folder, "Ann", "seven green lorries", "editor");
        await using var board = await RunningBoard.StartAsync(
            folder, ("Board__Address", "0.0.0.0"), ("Board__Hosts__0", "localhost"), ("Board__Certificate", certificate), ("Board__CertificateKey", key));
        Assert.Equal("https", board.Address.Scheme);
        using var visitor = new Visitor(new Uri($"https://localhost:{board.Address.Port}"), fingerprint);
        using (var page = await visitor.GetAsync("/sign-in"))
        {
            Assert.Equal(HttpStatusCode.OK, page.StatusCode);
            Assert.All(page.Headers.GetValues("Set-Cookie"), c => Assert.Contains("; secure", c, StringComparison.Ordinal));
        }

        using (var answer = await visitor.SignInAsync("Ann", "seven green lorries"))
        {
            Assert.All(answer.Headers.GetValues("Set-Cookie"), c => Assert.Contains("; secure", c, StringComparison.Ordinal));
        }

        Assert.Contains("T04", await visitor.TextAsync("/plan"), StringComparison.Ordinal);
        using var stranger = new Visitor(new Uri($"https://localhost:{board.Address.Port}"), trusted: null);
        await Assert.ThrowsAsync<HttpRequestException>(() => stranger.GetAsync("/sign-in"));

        await CommandLine.RunAsync(folder, "user", "remove", "Ann");
        using var closed = await visitor.GetAsync("/plan");
        Assert.Equal(HttpStatusCode.ServiceUnavailable, closed.StatusCode);
        Assert.DoesNotContain("T04", await closed.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static (string Certificate, string Key, string Fingerprint) MakeCertificate(string folder)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName("localhost");
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(names.Build());
        var now = TimeProvider.System.GetUtcNow();
        using var certificate = request.CreateSelfSigned(now.AddDays(-1), now.AddDays(2));
        var (certificateFile, keyFile) = (Path.Combine(folder, "board.pem"), Path.Combine(folder, "board.key"));
        File.WriteAllText(certificateFile, certificate.ExportCertificatePem());
        File.WriteAllText(keyFile, key.ExportPkcs8PrivateKeyPem());
        return (certificateFile, keyFile, certificate.GetCertHashString());
    }
}
