using System.Collections.Frozen;
using System.Text;
using Vanehour.Fleet;

namespace Vanehour.Ingest.Payloads;

/// <summary>Which signal a metric's name in the feed means. The signals' own names always count; a feed may add its own.</summary>
public sealed class SignalNames
{
    private const int LongestName = 256;

    private readonly FrozenDictionary<string, SignalInfo?>.AlternateLookup<ReadOnlySpan<char>> byName;

    /// <summary>Makes the mapping.</summary>
    /// <param name="own">A feed's own metric names, each with the signal's name it means; an empty signal means: leave it out without a reject.</param>
    /// <exception cref="ArgumentException">A name is mapped to something that is no signal.</exception>
    public SignalNames(IEnumerable<KeyValuePair<string, string>>? own = null)
    {
        var names = SignalInfo.All.ToDictionary(i => i.Name, i => (SignalInfo?)i, StringComparer.Ordinal);
        foreach (var (name, signal) in own ?? [])
        {
            names[name] = signal.Length == 0
                ? null
                : SignalInfo.Find(signal) ?? throw new ArgumentException($"'{name}' is mapped to '{signal}', which is no signal.", nameof(own));
        }

        byName = names.ToFrozenDictionary(StringComparer.Ordinal).GetAlternateLookup<ReadOnlySpan<char>>();
    }

    /// <summary>The signals' own names only.</summary>
    public static SignalNames Default { get; } = new();

    /// <summary>Finds the signal that a resolved SenML name means for a truck.</summary>
    /// <param name="name">The resolved name, UTF-8.</param>
    /// <param name="truck">The truck of the topic.</param>
    /// <param name="signal">The signal when found.</param>
    internal NameMatch Match(ReadOnlySpan<byte> name, string truck, out SignalInfo? signal)
    {
        signal = null;
        Span<char> buffer = stackalloc char[LongestName];
        if (name.Length > LongestName || !Encoding.UTF8.TryGetChars(name, buffer, out var length))
        {
            return NameMatch.Unknown;
        }

        ReadOnlySpan<char> whole = buffer[..length];
        if (byName.TryGetValue(whole, out signal))
        {
            return signal is null ? NameMatch.LeftOut : NameMatch.Signal;
        }

        var slash = whole.IndexOf('/');
        while (slash >= 0)
        {
            if (byName.TryGetValue(whole[(slash + 1)..], out signal))
            {
                if (!whole[..slash].SequenceEqual(truck))
                {
                    return NameMatch.OtherTruck;
                }

                return signal is null ? NameMatch.LeftOut : NameMatch.Signal;
            }

            var next = whole[(slash + 1)..].IndexOf('/');
            slash = next < 0 ? -1 : slash + 1 + next;
        }

        return NameMatch.Unknown;
    }
}
