using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Vanehour.Scoring.Drills;

/// <summary>
/// Seals the truth of a drill: AES-GCM under a key that is derived from words in this program. That keeps it from being read by accident or with an editor; it does not
/// keep it from somebody who is determined and has the program's source.
/// </summary>
internal static class DrillSeal
{
    private const byte Format = 1;
    private const int NonceBytes = 12;
    private const int TagBytes = 16;

    private static readonly byte[] Key = HKDF.DeriveKey(
        HashAlgorithmName.SHA256, "Look at the charts first; the answer can wait."u8.ToArray(), 32, salt: null, info: "vanehour drill seal 1"u8.ToArray());

    /// <summary>Seals: one byte of format, nonce, tag, ciphertext.</summary>
    /// <param name="truth">What is sealed.</param>
    /// <param name="bound">The part of drill.json that must not be changed while it is sealed.</param>
    public static byte[] Close(DrillTruth truth, string bound)
    {
        var plain = JsonSerializer.SerializeToUtf8Bytes(truth, DrillsJson.Default.DrillTruth);
        var result = new byte[1 + NonceBytes + TagBytes + plain.Length];
        result[0] = Format;
        RandomNumberGenerator.Fill(result.AsSpan(1, NonceBytes));
        using var aes = new AesGcm(Key, TagBytes);
        aes.Encrypt(
            result.AsSpan(1, NonceBytes), plain, result.AsSpan(1 + NonceBytes + TagBytes), result.AsSpan(1 + NonceBytes, TagBytes), Encoding.UTF8.GetBytes(bound));
        return result;
    }

    /// <summary>Opens; null where it is not ours, damaged, or of another drill.</summary>
    /// <param name="sealedTruth">What <see cref="Close"/> gave.</param>
    /// <param name="bound">As it was at the closing.</param>
    public static DrillTruth? Open(byte[] sealedTruth, string bound)
    {
        if (sealedTruth.Length < 1 + NonceBytes + TagBytes || sealedTruth[0] != Format)
        {
            return null;
        }

        var plain = new byte[sealedTruth.Length - 1 - NonceBytes - TagBytes];
        using var aes = new AesGcm(Key, TagBytes);
        try
        {
            aes.Decrypt(
                sealedTruth.AsSpan(1, NonceBytes), sealedTruth.AsSpan(1 + NonceBytes + TagBytes), sealedTruth.AsSpan(1 + NonceBytes, TagBytes), plain, Encoding.UTF8.GetBytes(bound));
            return JsonSerializer.Deserialize(plain, DrillsJson.Default.DrillTruth);
        }
        catch (Exception e) when (e is AuthenticationTagMismatchException or JsonException)
        {
            return null;
        }
    }
}
