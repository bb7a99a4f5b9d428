namespace Vanehour.Host;

/// <summary>What a command talks to, so that tests can stand in for a terminal.</summary>
/// <param name="Out">What a person or program reads.</param>
/// <param name="Error">Progress, log lines and errors.</param>
/// <param name="Time">The clock.</param>
/// <param name="ErrorIsTerminal">Whether progress may be drawn as moving bars.</param>
public sealed record CliEnvironment(TextWriter Out, TextWriter Error, TimeProvider Time, bool ErrorIsTerminal)
{
    /// <summary>The process's own streams and clock.</summary>
    public static CliEnvironment Current() => new(Console.Out, Console.Error, TimeProvider.System, !Console.IsErrorRedirected);
}
