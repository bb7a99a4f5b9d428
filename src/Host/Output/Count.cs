using System.Globalization;

namespace Vanehour.Host.Output;

/// <summary>How many of what, in the singular or plural.</summary>
internal static class Count
{
    /// <summary>As "1 truck" or "1,234 trucks".</summary>
    public static string Of(long number, string thing) =>
        string.Create(CultureInfo.InvariantCulture, $"{number:N0} {thing}{(number == 1 ? string.Empty : "s")}");
}
