using System.Globalization;

namespace Vanehour.Ingest.Feed;

/// <summary>Where a broker is.</summary>
/// <param name="Host">Host name or address.</param>
/// <param name="Port">TCP port, 1 to 65535.</param>
/// <param name="Tls">Whether the connection is encrypted.</param>
public sealed record BrokerAddress(string Host, int Port, bool Tls)
{
    /// <summary>The port registered for MQTT.</summary>
    public const int DefaultPort = 1883;

    /// <summary>The port registered for MQTT over TLS.</summary>
    public const int DefaultTlsPort = 8883;

    /// <summary>Reads <c>mqtt[s]://host[:port]</c>.</summary>
    /// <param name="text">The address.</param>
    /// <param name="problem">What is wrong with it, as a sentence; null when nothing is.</param>
    /// <returns>The address, or null.</returns>
    public static BrokerAddress? TryParse(string? text, out string? problem)
    {
        problem = null;
        if (!Uri.TryCreate(text, UriKind.Absolute, out var uri) || uri.Scheme is not ("mqtt" or "mqtts") || uri.Host.Length == 0)
        {
            problem = $"The broker '{text}' must be written as mqtt://host[:port] or mqtts://host[:port].";
            return null;
        }

        if (uri.UserInfo.Length > 0)
        {
            // Not echoed: it may be a password.
            problem = "The broker's address must not hold a user or password; set Ingest:User and Ingest:PasswordFile.";
            return null;
        }

        if (uri.PathAndQuery.Trim('/').Length > 0)
        {
            problem = $"The broker '{text}' must end after its port.";
            return null;
        }

        var tls = uri.Scheme == "mqtts";
        var port = uri.IsDefaultPort || uri.Port <= 0 ? (tls ? DefaultTlsPort : DefaultPort) : uri.Port;
        return new BrokerAddress(uri.DnsSafeHost, port, tls);
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{(Tls ? "mqtts" : "mqtt")}://{Host}:{Port}");
}
