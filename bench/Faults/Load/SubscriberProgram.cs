using System.Globalization;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Load;

/// <summary>Debian's mosquitto_sub: a subscriber in C that acknowledges at once and throws away what it gets. What a worker is compared with.</summary>
internal static class SubscriberProgram
{
    private static readonly string[] Places = ["/usr/bin/mosquitto_sub", "/usr/local/bin/mosquitto_sub", "/opt/homebrew/bin/mosquitto_sub"];

    public static string? Program => Array.Find(Places, File.Exists);

    /// <summary>Starts it on a session that the broker keeps, with as many messages ahead of its acknowledgements as a worker; it ends after so many messages.</summary>
    public static ChildProcess Start(int port, int messages) => ChildProcess.Start("/bin/sh",
    [
        "-c",
        string.Create(
            CultureInfo.InvariantCulture,
            $"exec {Program} -h 127.0.0.1 -p {port} -V 5 -i plain-subscriber -c -x 86400 -D connect receive-maximum 1000 -q 1 -t fleet/+/pump -C {messages} > /dev/null"),
    ]);
}
