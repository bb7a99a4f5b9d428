using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Vanehour.Scoring.Drills;

/// <summary>What a case leaves open, drawn by its seed: each value by its own name, so that a value added later changes no other.</summary>
/// <param name="caseId">The case.</param>
/// <param name="seed">The seed.</param>
internal readonly struct DrillDraw(string caseId, long seed)
{
    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public int Whole(string name, int low, int high) => low + (int)Math.Min(high - low, Math.Floor(Share(name) * (high - low + 1)));

    /// <summary>A number from <paramref name="low"/> to <paramref name="high"/>.</summary>
    public double Uniform(string name, double low, double high) => low + (Share(name) * (high - low));

    // 53 bits of a digest: a double in [0, 1).
    private double Share(string name)
    {
        var digest = SHA256.HashData(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"vanehour drill|{caseId}|{seed}|{name}")));
        return (BinaryPrimitives.ReadUInt64BigEndian(digest) >> 11) / (double)(1UL << 53);
    }
}
