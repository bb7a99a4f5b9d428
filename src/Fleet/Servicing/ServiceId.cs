using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Vanehour.Fleet.Register;

namespace Vanehour.Fleet.Servicing;

/// <summary>The short ids by which people name service records.</summary>
public static class ServiceId
{
    // 40 bits, as for findings: short enough to type, and a fleet would need about a million records before two met by chance.
    private const int HexDigits = 10;

    /// <summary>The record's own id where it has one, else a short hash of its key: the same on every machine, and another one once truck, instant, kind or meter change.</summary>
    public static string Of(ServiceRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return record.RecordId ?? Hash(FleetRegister.KeyOf(record));
    }

    /// <summary>A record id for a new record that none of <paramref name="taken"/> has.</summary>
    internal static string New(ServiceRecord record, DateTimeOffset now, IReadOnlySet<string> taken)
    {
        for (var attempt = 0; ; attempt++)
        {
            var id = Hash(string.Create(CultureInfo.InvariantCulture, $"{FleetRegister.KeyOf(record)}\n{now.ToUnixTimeMilliseconds()}\n{attempt}"));
            if (!taken.Contains(id))
            {
                return id;
            }
        }
    }

    private static string Hash(string key) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)))[..HexDigits];
}
