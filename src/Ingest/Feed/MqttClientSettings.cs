using System.Security.Authentication;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using MQTTnet;
using MQTTnet.Formatter;

namespace Vanehour.Ingest.Feed;

/// <summary>Turns the settings into those of the MQTT library. Files are read at every connection, so that renewed certificates and passwords count.</summary>
internal static class MqttClientSettings
{
    /// <summary>
    /// The socket's buffers, bytes. The library's 8 KiB leave a window smaller than the broker's segments, and then TCP moves one segment
    /// for each fifth of a second: with the machine busy a worker was seen to take 17 messages a second for minutes.
    /// </summary>
    public const int SocketBufferBytes = 256 * 1024;

    public static MqttClientOptions Build(IngestOptions options)
    {
        var broker = options.Broker;
        var builder = new MqttClientOptionsBuilder()
            .WithTcpServer(broker.Host, broker.Port)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(options.EffectiveClientId)
            .WithCleanStart(options.CleanStart)
            .WithSessionExpiryInterval((uint)options.SessionExpiry.TotalSeconds)
            .WithReceiveMaximum((ushort)options.ReceiveMaximum)
            .WithMaximumPacketSize((uint)options.MaxPacketBytes)
            .WithKeepAlivePeriod(options.KeepAlive)
            .WithTimeout(options.ConnectTimeout);
        if (options.User is { } user)
        {
            builder.WithCredentials(user, Password(options));
        }

        if (options.Tls)
        {
            builder.WithTlsOptions(tls => Tls(tls, options));
        }

        var settings = builder.Build();
        ((MqttClientTcpOptions)settings.ChannelOptions).BufferSize = SocketBufferBytes;
        return settings;
    }

    private static string Password(IngestOptions options)
    {
        if (options.PasswordFile is not { } file)
        {
            return options.Password ?? "";
        }

        using var reader = File.OpenText(file);
        return reader.ReadLine() ?? "";
    }

    private static void Tls(MqttClientTlsOptionsBuilder tls, IngestOptions options)
    {
        tls.UseTls().WithTargetHost(options.Host);
        try
        {
            if (options.CaFile is { } caFile)
            {
                var authorities = new X509Certificate2Collection();
                authorities.ImportFromPemFile(caFile);

                // A fleet's own authority seldom publishes a revocation list.
                tls.WithTrustChain(authorities).WithRevocationMode(X509RevocationMode.NoCheck);
            }

            if (options.ClientCertificateFile is { } certificateFile)
            {
                var certificate = X509Certificate2.CreateFromPemFile(certificateFile, options.ClientKeyFile);
                tls.WithClientCertificates([OperatingSystem.IsWindows() ? Persisted(certificate) : certificate]);
            }
        }
        catch (CryptographicException e)
        {
            throw new AuthenticationException($"a certificate or key file cannot be read: {e.Message}", e);
        }
    }

    // Windows does not offer a key that lives in memory only to a TLS peer.
    private static X509Certificate2 Persisted(X509Certificate2 certificate)
    {
        using (certificate)
        {
            return X509CertificateLoader.LoadPkcs12(certificate.Export(X509ContentType.Pkcs12), null);
        }
    }
}
