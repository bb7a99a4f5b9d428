using System.CommandLine;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Console;
using Vanehour.Host.Composition;
using Vanehour.Host.Pages;
using Vanehour.Host.Serving;
using Vanehour.Host.Settings;

namespace Vanehour.Host.Commands;

/// <summary>Shows the web pages of a data folder, without a worker.</summary>
internal static class BoardCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var where = new BoardOptionsOption();
        var command = new Command(
            "board",
            "Show the web pages of a data folder until stopped: fleet, trucks, plan, rounds, findings, feeds. 'serve' shows them too, beside the worker.\n\nExample: vanehour board --data vanehour-data");
        where.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            var settings = SettingsFile.Read(folder);
            var options = BoardHost.OptionsOf(settings, o => where.Over(o, parsed));
            using var data = DataFolder.OpenExisting(folder);
            await using var services = Logging(environment.Time);
            await using var board = await BoardHost.StartAsync(data, settings, options, environment.Time, services.GetRequiredService<ILoggerFactory>(), cancellationToken);
            environment.Out.WriteLine($"The Board is at {board.Address} . Ctrl-C stops.");
            try
            {
                await Task.Delay(Timeout.Infinite, cancellationToken);
            }
            catch (OperationCanceledException)
            {
                await environment.Error.WriteLineAsync("Stopped.");
            }

            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>Logging as the worker has it.</summary>
    internal static ServiceProvider Logging(TimeProvider time)
    {
        var services = new ServiceCollection();
        services.AddLogging(logging =>
        {
            logging.SetMinimumLevel(LogLevel.Warning);
            logging.AddConsole(options => options.FormatterName = PlainLines.FormatName);
        });
        services.AddSingleton<ConsoleFormatter>(new PlainLines(time));
        services.Configure<ConsoleLoggerOptions>(options => options.LogToStandardErrorThreshold = LogLevel.Trace);
        return services.BuildServiceProvider();
    }
}
