using System.Net.Sockets;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging;
using Vanehour.Board;
using Vanehour.Board.Desk;
using Vanehour.Board.Serving;
using Vanehour.Host.Composition;
using Vanehour.Host.Health;
using Vanehour.Host.Settings;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Pages;

/// <summary>The Board over a data folder, as the commands run it.</summary>
internal sealed class BoardHost : IAsyncDisposable
{
    private readonly BoardServer server;
    private readonly CommandDesk desk;
    private readonly AnalysisOnRequest analyst;

    private BoardHost(BoardServer server, CommandDesk desk, AnalysisOnRequest analyst)
    {
        this.server = server;
        this.desk = desk;
        this.analyst = analyst;
    }

    /// <summary>Where it listens.</summary>
    public string Address => server.Address;

    /// <summary>Reads the section Board.</summary>
    /// <param name="settings">The settings.</param>
    /// <param name="configure">What the command line says, after the settings.</param>
    /// <exception cref="CommandFailedException">It cannot be used.</exception>
    public static BoardOptions OptionsOf(IConfiguration settings, Action<BoardOptions>? configure = null)
    {
        var options = SettingsFile.Bind<BoardOptions>(settings, BoardOptions.Section);
        configure?.Invoke(options);
        return options.Problems().ToList() is { Count: > 0 } problems
            ? throw new CommandFailedException($"The settings section {BoardOptions.Section} cannot be used: {string.Join(" ", problems)}")
            : options;
    }

    /// <summary>Starts it.</summary>
    /// <exception cref="CommandFailedException">It cannot listen where it should.</exception>
    public static async Task<BoardHost> StartAsync(DataFolder data, IConfiguration settings, BoardOptions options, TimeProvider time, ILoggerFactory logging, CancellationToken cancellationToken)
    {
        var display = SettingsFile.Bind<DisplaySettings>(settings, "Display");
        var analyst = new AnalysisOnRequest(data, time, logging.CreateLogger<AnalysisOnRequest>());
        var desk = new CommandDesk(data, time, analyst);
        var fleet = new BoardFleet
        {
            Folder = data.Folder,
            Register = data.Register,
            Runs = data.Runs,
            Results = data.Results,
            Findings = data.Findings,
            Plans = data.Plans,
            Samples = () => data.Samples,
            Rejects = data.Rejects,
            PlanOptions = PlanJob.OptionsOf(settings),
            RoundOptions = RoundSettings.Read(settings),
            Units = display.ForReports,
            IsTrade = display.IsTrade,
            Simulated = FolderMarks.IsInvented(data.Folder),
            Training = DrillFolder.IsDrill(data.Folder) ? new DrillDesk(DrillFolder.Open(data.Folder), new DeedNotes(data.Folder, time), display.IsTrade, time) : null,
            Now = () => RoundReading.Now(data, time),
            Time = time,
            Desk = desk,
            Feed = () => FeedOf(data.Folder, time.GetUtcNow()),
        };
        var server = BoardServer.Create(fleet, options, new LoggerFactoryProvider(logging));
        try
        {
            await server.StartAsync(cancellationToken);
        }
        catch (Exception e) when (e is IOException or SocketException)
        {
            await server.DisposeAsync();
            throw new CommandFailedException(
                $"The Board cannot listen on {options.Address} port {options.Port}: {(e.InnerException?.Message ?? e.Message).TrimEnd('.')}. Choose another port with --board-port or the setting Board:Port.", e);
        }

        return new BoardHost(server, desk, analyst);
    }

    public async ValueTask DisposeAsync()
    {
        desk.StopSlow();

        // Whoever has sent a form gets the answer.
        using (var patience = new CancellationTokenSource(TimeSpan.FromSeconds(10)))
        {
            await server.StopAsync(patience.Token);
        }

        await server.DisposeAsync();
        await analyst.DisposeAsync();
        desk.Dispose();
    }

    private static FeedState? FeedOf(string folder, DateTimeOffset now) =>
        WorkerStatusFile.Read(folder) is { } status ? new FeedState(status.WrittenAt, status.NotReady(now), status.Backlog, status.SamplesStored) : null;

    // The Board's own services write to the log of the command that runs it.
    private sealed class LoggerFactoryProvider(ILoggerFactory factory) : ILoggerProvider
    {
        public ILogger CreateLogger(string categoryName) => factory.CreateLogger(categoryName);

        public void Dispose()
        {
            // The factory is its maker's.
        }
    }
}
