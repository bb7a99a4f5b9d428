using System.Globalization;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Payloads;

namespace Vanehour.Ingest;

/// <summary>Settings of the ingest worker, section <c>Ingest</c>.</summary>
public sealed class IngestOptions
{
    /// <summary>The section's name in settings.</summary>
    public const string Section = "Ingest";

    /// <summary>The broker's host.</summary>
    public string Host { get; set; } = "localhost";

    /// <summary>The broker's TCP port; unset: 1883, or 8883 with TLS.</summary>
    public int? Port { get; set; }

    /// <summary>Whether to use TLS.</summary>
    public bool Tls { get; set; }

    /// <summary>PEM file of the certificate authority that vouches for the broker; unset: the machine's own trust.</summary>
    public string? CaFile { get; set; }

    /// <summary>PEM file of the client's certificate.</summary>
    public string? ClientCertificateFile { get; set; }

    /// <summary>PEM file of the client's private key, not encrypted.</summary>
    public string? ClientKeyFile { get; set; }

    /// <summary>The user's name at the broker.</summary>
    public string? User { get; set; }

    /// <summary>The password. A file is better: see <see cref="PasswordFile"/>.</summary>
    public string? Password { get; set; }

    /// <summary>File that holds the password in its first line.</summary>
    public string? PasswordFile { get; set; }

    /// <summary>The client id, which names the session at the broker; unset: made of the machine's name and the share name, where the host does not set one kept with its data. No two workers may have the same.</summary>
    public string? ClientId { get; set; }

    /// <summary>Whether to throw away what the broker kept for us, at every connection. For trials only: it loses messages.</summary>
    public bool CleanStart { get; set; }

    /// <summary>How long the broker keeps our session while we are away.</summary>
    public TimeSpan SessionExpiry { get; set; } = TimeSpan.FromDays(7);

    /// <summary>How often the connection is proved alive.</summary>
    public TimeSpan KeepAlive { get; set; } = TimeSpan.FromSeconds(30);

    /// <summary>How long a connection attempt may take.</summary>
    public TimeSpan ConnectTimeout { get; set; } = TimeSpan.FromSeconds(10);

    /// <summary>Most messages that the broker sends ahead of our acknowledgements, 1 to 65535.</summary>
    public int ReceiveMaximum { get; set; } = 1000;

    /// <summary>Largest MQTT packet we let the broker send, bytes. The broker throws larger ones away unseen, so it lies far above <see cref="MaxPayloadBytes"/>.</summary>
    public int MaxPacketBytes { get; set; } = 8 * 1024 * 1024;

    /// <summary>Name of the shared subscription by which several workers split one feed; unset: this worker gets everything.</summary>
    public string? ShareName { get; set; }

    /// <summary>Topic patterns (<see cref="TopicPattern"/>); none: <c>fleet/{truck}/pump</c>.</summary>
    public IList<string> Topics { get; } = [];

    /// <summary>The feed's own metric names, each with the signal it means, or with nothing to leave it out without a reject.</summary>
    public IDictionary<string, string> Names { get; } = new Dictionary<string, string>(StringComparer.Ordinal);

    /// <summary>Whether a first connection that fails ends the worker. Otherwise it keeps trying, as it does after every later loss.</summary>
    public bool FailFast { get; set; } = true;

    /// <summary>Wait after the first failed attempt (broker or store); it doubles from there.</summary>
    public TimeSpan RetryFirst { get; set; } = TimeSpan.FromMilliseconds(500);

    /// <summary>Longest wait between attempts.</summary>
    public TimeSpan RetryLongest { get; set; } = TimeSpan.FromSeconds(30);

    /// <summary>A batch is closed when it holds so many samples.</summary>
    public int BatchSamples { get; set; } = 5000;

    /// <summary>A batch is closed when it holds so many messages.</summary>
    public int BatchMessages { get; set; } = 400;

    /// <summary>A batch is closed at the latest so long after its first message.</summary>
    public TimeSpan BatchDelay { get; set; } = TimeSpan.FromMilliseconds(100);

    /// <summary>Most messages waiting to be decoded.</summary>
    public int ChannelCapacity { get; set; } = 2000;

    /// <summary>Largest payload, bytes.</summary>
    public int MaxPayloadBytes { get; set; } = 256 * 1024;

    /// <summary>Most records in a payload.</summary>
    public int MaxRecords { get; set; } = SenMLReader.DefaultMaxRecords;

    /// <summary>How far ahead of our clock an instant may be.</summary>
    public TimeSpan MaxAhead { get; set; } = TimeSpan.FromMinutes(10);

    /// <summary>Whether times relative to the arrival are admitted; a redelivery then makes other samples.</summary>
    public bool AdmitRelativeTime { get; set; }

    /// <summary>Messages per second that one truck may send in the long run; 0: no limit. What is over it is refused, acknowledged and kept among the rejects only.</summary>
    public int RatePerSecond { get; set; }

    /// <summary>Messages that one truck may send at once on top of that, for example after being out of coverage.</summary>
    public int RateBurst { get; set; }

    /// <summary>Most trucks that are stored, registered or not.</summary>
    public int MaxTrucks { get; set; } = 10_000;

    /// <summary>How long stopping may take to store what has arrived; what is left comes again.</summary>
    public TimeSpan DrainLimit { get; set; } = TimeSpan.FromSeconds(10);

    /// <summary>The broker's address.</summary>
    public BrokerAddress Broker => new(Host, Port ?? (Tls ? BrokerAddress.DefaultTlsPort : BrokerAddress.DefaultPort), Tls);

    /// <summary>The topic patterns that count.</summary>
    public IReadOnlyList<string> EffectiveTopics => Topics.Count == 0 ? [TopicPattern.Default] : [.. Topics];

    /// <summary>The client id that counts.</summary>
    public string EffectiveClientId => string.IsNullOrEmpty(ClientId)
        ? $"vanehour-{Environment.MachineName}{(string.IsNullOrEmpty(ShareName) ? "" : "-" + ShareName)}"
        : ClientId;

    /// <summary>Takes host, port and TLS from an address.</summary>
    public void SetBroker(BrokerAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        (Host, Port, Tls) = (address.Host, address.Port, address.Tls);
    }

    /// <summary>The settings that count, on one line; secrets masked.</summary>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"broker {Broker}, client id {EffectiveClientId}, user {User ?? "none"}, password {Masked()}, CA {CaFile ?? "machine"}, client certificate {ClientCertificateFile ?? "none"}, topics {string.Join(' ', EffectiveTopics)}, share {ShareName ?? "none"}, clean start {CleanStart}, session expiry {SessionExpiry}, receive maximum {ReceiveMaximum}, batch {BatchMessages} messages or {BatchSamples} samples or {BatchDelay}, waiting {ChannelCapacity}, payload {MaxPayloadBytes} B, records {MaxRecords}, ahead {MaxAhead}, relative time {AdmitRelativeTime}, rate {RatePerSecond}/s + {RateBurst}, trucks {MaxTrucks}, own names {Names.Count}, fail fast {FailFast}");

    private string Masked() => PasswordFile is not null ? $"from {PasswordFile}" : Password is null ? "none" : "***";
}
