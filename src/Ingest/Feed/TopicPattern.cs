using Vanehour.Fleet;

namespace Vanehour.Ingest.Feed;

/// <summary>Where in a topic the truck's id stands, for example <c>fleet/{truck}/pump</c>. Other levels may be <c>+</c>, and the last <c>#</c>.</summary>
public sealed class TopicPattern
{
    /// <summary>The pattern of the project's own topic.</summary>
    public const string Default = "fleet/{truck}/pump";

    private const string Placeholder = "{truck}";

    private readonly string[] levels;

    private TopicPattern(string[] levels)
    {
        this.levels = levels;
        Filter = string.Join('/', levels.Select(l => l == Placeholder ? "+" : l));
    }

    /// <summary>The MQTT topic filter to subscribe to.</summary>
    public string Filter { get; }

    /// <summary>Reads a pattern.</summary>
    /// <param name="text">The pattern.</param>
    /// <param name="problem">What is wrong with it, as a sentence; null when nothing is.</param>
    /// <returns>The pattern, or null.</returns>
    public static TopicPattern? TryParse(string? text, out string? problem)
    {
        problem = null;
        var levels = (text ?? "").Split('/');
        if (levels.Count(l => l == Placeholder) != 1)
        {
            problem = $"The topic '{text}' must hold the level {Placeholder} exactly once, as in {Default}.";
        }
        else if (levels[0].StartsWith('$'))
        {
            problem = $"The topic '{text}' must not begin with '$'; a shared subscription is asked for by the share name.";
        }
        else if (levels.Where((l, i) => l != Placeholder && !IsLevel(l, i == levels.Length - 1)).Any())
        {
            problem = $"In the topic '{text}', '+' must be a level of its own, '#' the last level, and braces are for {Placeholder} alone.";
        }

        return problem is null ? new TopicPattern(levels) : null;
    }

    /// <summary>Finds the truck's id in a topic.</summary>
    /// <param name="topic">The topic of a message.</param>
    /// <param name="truck">The id.</param>
    /// <returns>False when the topic is not of this pattern or the id is not valid (<see cref="TruckId"/>).</returns>
    public bool TryMatch(ReadOnlySpan<char> topic, out ReadOnlySpan<char> truck)
    {
        truck = default;
        var rest = topic;
        for (var i = 0; i < levels.Length; i++)
        {
            if (levels[i] == "#")
            {
                return TruckId.IsValid(truck);
            }

            var end = rest.IndexOf('/');
            var isLast = i == levels.Length - 1;
            if (isLast != (end < 0) && !(end < 0 && i == levels.Length - 2 && levels[^1] == "#"))
            {
                return false;
            }

            var level = end < 0 ? rest : rest[..end];
            if (levels[i] == Placeholder)
            {
                truck = level;
            }
            else if (levels[i] != "+" && !level.SequenceEqual(levels[i]))
            {
                return false;
            }

            if (end < 0)
            {
                break;
            }

            rest = rest[(end + 1)..];
        }

        return TruckId.IsValid(truck);
    }

    private static bool IsLevel(string level, bool last) =>
        level is "+" || (level is "#" && last) || level.AsSpan().IndexOfAny("+#{}\0") < 0;
}
