using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Vanehour.Models.Findings;

/// <summary>Makes ids of findings: the same finding first seen at the same instant has the same id on every machine.</summary>
public static class FindingId
{
    // 40 bits: short enough to type, and a fleet would need about a million findings before two met by chance.
    private const int HexDigits = 10;

    /// <summary>The id of a finding of this kind on this truck and pump that began at this instant.</summary>
    public static string Make(FindingKind kind, string? truck, string? pumpSerial, DateTimeOffset since)
    {
        var key = string.Create(CultureInfo.InvariantCulture, $"{kind}\n{truck}\n{pumpSerial}\n{since.ToUnixTimeMilliseconds()}");
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(key)))[..HexDigits];
    }
}
