using System.Numerics;

namespace Vanehour.Simulator.Randomness;

/// <summary>
/// A generator whose numbers for a key are the same on every runtime: xoshiro256** with its state filled by SplitMix64.
/// </summary>
/// <remarks>
/// [Blackman] D. Blackman and S. Vigna, Scrambled linear pseudorandom number generators, ACM TOMS 47 (2021), algorithms xoshiro256** and
/// SplitMix64; constants from memory, checked against hand-computed first outputs in the tests.
/// System.Random is not used because its algorithm for a seed is an implementation detail of the runtime.
/// </remarks>
internal sealed class SeededRandom
{
    private ulong s0;
    private ulong s1;
    private ulong s2;
    private ulong s3;
    private double spareNormal = double.NaN;

    /// <summary>Starts from a key.</summary>
    public SeededRandom(ulong key)
    {
        s0 = SplitMix64(ref key);
        s1 = SplitMix64(ref key);
        s2 = SplitMix64(ref key);
        s3 = SplitMix64(ref key);
    }

    /// <summary>Starts from a full state; not all zero.</summary>
    public SeededRandom(ulong s0, ulong s1, ulong s2, ulong s3) => (this.s0, this.s1, this.s2, this.s3) = (s0, s1, s2, s3);

    /// <summary>The stream of one owner (truck or yard number) for one purpose, and where it matters for one day.</summary>
    public static SeededRandom For(long seed, int owner, RandomStream stream, int day = 0)
    {
        var key = unchecked((ulong)seed);
        key = SplitMix64(ref key) ^ (ulong)(uint)owner;
        key = SplitMix64(ref key) ^ (ulong)stream;
        key = SplitMix64(ref key) ^ (ulong)(uint)day;
        return new SeededRandom(key);
    }

    /// <summary>One SplitMix64 step: moves the state on and gives its scrambled value.</summary>
    public static ulong SplitMix64(ref ulong state)
    {
        unchecked
        {
            state += 0x9E3779B97F4A7C15;
            var z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }

    /// <summary>64 random bits.</summary>
    public ulong Next()
    {
        unchecked
        {
            var result = BitOperations.RotateLeft(s1 * 5, 7) * 9;
            var t = s1 << 17;
            s2 ^= s0;
            s3 ^= s1;
            s1 ^= s2;
            s0 ^= s3;
            s2 ^= t;
            s3 = BitOperations.RotateLeft(s3, 45);
            return result;
        }
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double NextUnit() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform in [<paramref name="low"/>, <paramref name="high"/>).</summary>
    public double Uniform(double low, double high) => low + ((high - low) * NextUnit());

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public int Whole(int low, int high) => low + (int)(NextUnit() * (high - low + 1));

    /// <summary>True with chance <paramref name="p"/>.</summary>
    public bool Chance(double p) => NextUnit() < p;

    /// <summary>Standard normal, by the Box-Muller transform.</summary>
    public double Normal()
    {
        if (!double.IsNaN(spareNormal))
        {
            var spare = spareNormal;
            spareNormal = double.NaN;
            return spare;
        }

        var radius = Math.Sqrt(-2 * Math.Log(1 - NextUnit()));
        var (sin, cos) = Math.SinCos(2 * Math.PI * NextUnit());
        spareNormal = radius * sin;
        return radius * cos;
    }

    /// <summary>exp of a normal with mean 0 and standard deviation <paramref name="sigma"/>: a factor about 1.</summary>
    public double Factor(double sigma) => Math.Exp(sigma * Normal());
}
