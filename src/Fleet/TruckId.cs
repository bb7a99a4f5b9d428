using System.Buffers;

namespace Vanehour.Fleet;

/// <summary>The rule for a truck's id: 1 to 64 of letters, digits, '-', '_' and '.'; case-sensitive.</summary>
public static class TruckId
{
    /// <summary>The longest id, in characters.</summary>
    public const int MaxLength = 64;

    private static readonly SearchValues<char> Allowed =
        SearchValues.Create("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.");

    /// <summary>Whether <paramref name="id"/> is a valid id.</summary>
    public static bool IsValid(ReadOnlySpan<char> id) =>
        id.Length is > 0 and <= MaxLength && id.IndexOfAnyExcept(Allowed) < 0;
}
