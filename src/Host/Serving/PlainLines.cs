using System.Globalization;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Logging.Console;

namespace Vanehour.Host.Serving;

/// <summary>A log line as a person reads it: instant (UTC), level, sentence; the type that wrote it says nothing to its reader.</summary>
/// <param name="time">The clock.</param>
public sealed class PlainLines(TimeProvider time) : ConsoleFormatter(FormatName)
{
    /// <summary>The name by which the console logger finds it.</summary>
    public const string FormatName = "plain";

    /// <inheritdoc/>
    public override void Write<TState>(in LogEntry<TState> logEntry, IExternalScopeProvider? scopeProvider, TextWriter textWriter)
    {
        ArgumentNullException.ThrowIfNull(textWriter);
        var message = logEntry.Formatter(logEntry.State, logEntry.Exception).ReplaceLineEndings(" | ");
        textWriter.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{time.GetUtcNow().UtcDateTime:yyyy-MM-dd'T'HH:mm:ss'Z'} {Word(logEntry.LogLevel)}: {message}"));
        if (logEntry.Exception is { } exception)
        {
            textWriter.WriteLine(exception.ToString());
        }
    }

    private static string Word(LogLevel level) => level switch
    {
        LogLevel.Critical or LogLevel.Error => "error",
        LogLevel.Warning => "warning",
        LogLevel.Information => "info",
        _ => "detail",
    };
}
