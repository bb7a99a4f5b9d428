namespace Vanehour.Models.Rounds;

/// <summary>The note of a service record of kind round: what was done, by whom, and what else there is to say, as <c>daily; by Ann; trap was full</c>.</summary>
public static class RoundNote
{
    private const string ByPrefix = "by ";

    /// <summary>Writes a note.</summary>
    /// <param name="what">A round or the key of a check.</param>
    /// <param name="by">Who; null where it is not said.</param>
    /// <param name="text">What else; null for nothing.</param>
    public static string Write(string what, string? by, string? text)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(what);
        return string.Join("; ", new[] { what, by is null ? null : ByPrefix + Part(by), text is null ? null : Part(text) }.Where(p => p is not null));
    }

    /// <summary>
    /// The rounds and checks a note names, in lower case with underscores. They stand before the first semicolon, several apart by commas or plus signs; of each the first
    /// word counts, so that "weekly round" and "Inlet-filter washed" are understood too.
    /// </summary>
    public static IEnumerable<string> Names(string? note) => (note ?? string.Empty)
        .Split(';')[0]
        .Split([',', '+'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
        .Select(p => p.Split([' ', ':', '.'], 2)[0].Replace('-', '_').ToLowerInvariant());

    /// <summary>Who did it; null where the note does not say.</summary>
    public static string? By(string? note) => (note ?? string.Empty)
        .Split(';', StringSplitOptions.TrimEntries)
        .Skip(1)
        .Where(p => p.StartsWith(ByPrefix, StringComparison.OrdinalIgnoreCase))
        .Select(p => p[ByPrefix.Length..].Trim())
        .FirstOrDefault(p => p.Length > 0);

    // A semicolon would end the part.
    private static string Part(string text) => text.Replace(';', ',').Trim();
}
