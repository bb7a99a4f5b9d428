namespace Vanehour.Simulator;

/// <summary>Where and how a simulated fleet is published.</summary>
public sealed record PublishOptions
{
    public string Host { get; init; } = "127.0.0.1";

    /// <summary>TCP port, 1 to 65 535.</summary>
    public int Port { get; init; } = 1883;

    public string? User { get; init; }

    public string? Password { get; init; }

    public bool UseTls { get; init; }

    /// <summary>With TLS: a PEM file of the authorities to trust, or null for the machine's own.</summary>
    public string? CaFile { get; init; }

    public PublishPace Pace { get; init; } = PublishPace.Fast;

    /// <summary>Messages sent and not yet acknowledged, per connection, 1 to 10 000. A broker that takes fewer waits with its acknowledgements.</summary>
    public int MaxInFlight { get; init; } = 50;

    /// <summary>How many connections share the trucks, 1 to 64. A truck keeps to one, so its order is kept.</summary>
    public int Connections { get; init; } = 1;

    /// <summary>The client id; connections after the first add -2, -3 and so on.</summary>
    public string ClientId { get; init; } = "vanehour-simulator";

    /// <summary>A file that keeps how far publishing has come, so that a later start with the same fleet goes on from there; null to begin at the beginning and keep nothing.</summary>
    public string? ResumeFile { get; init; }

    /// <summary>Checks every value.</summary>
    /// <exception cref="ArgumentException">One is missing or outside its range.</exception>
    public void Validate()
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(Host);
        ArgumentException.ThrowIfNullOrWhiteSpace(ClientId);
        ArgumentOutOfRangeException.ThrowIfLessThan(Port, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Port, 65535);
        ArgumentOutOfRangeException.ThrowIfLessThan(MaxInFlight, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(MaxInFlight, 10_000);
        ArgumentOutOfRangeException.ThrowIfLessThan(Connections, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Connections, 64);
        if (!Enum.IsDefined(Pace))
        {
            throw new ArgumentOutOfRangeException(nameof(Pace), Pace, "Must be Fast or Real.");
        }
    }

    // The password stays out of logs.
    private bool PrintMembers(System.Text.StringBuilder builder)
    {
        builder.Append(System.Globalization.CultureInfo.InvariantCulture, $"{Host}:{Port}, {Pace}, user {User ?? "none"}, tls {UseTls}");
        return true;
    }
}
