using System.CommandLine;
using System.CommandLine.Parsing;

namespace Vanehour.Host.Commands;

/// <summary>What was given for an option, for validators.</summary>
internal static class GivenValue
{
    /// <summary>The value, where one was given and can be read as what it should be; what cannot is refused by the parser itself, in a sentence, but only after the validators.</summary>
    public static bool TryGet<T>(this CommandResult result, Option<T> option, out T? value)
    {
        value = default;
        if (result.GetResult(option) is null or { Implicit: true })
        {
            return false;
        }

        try
        {
            value = result.GetValue(option);
            return true;
        }
        catch (InvalidOperationException)
        {
            // The library has no way to ask whether it can be read without reading it.
            return false;
        }
    }
}
