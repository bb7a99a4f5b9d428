using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Board;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Pages;

/// <summary>Shows the Board beside a worker. Where it cannot listen the worker does not start: a fleet's keepers should not wonder for days where it is.</summary>
/// <param name="data">The data folder.</param>
/// <param name="settings">The settings.</param>
/// <param name="options">Where it listens.</param>
/// <param name="time">The clock.</param>
/// <param name="logging">Where it writes.</param>
internal sealed partial class BoardService(DataFolder data, IConfiguration settings, BoardOptions options, TimeProvider time, ILoggerFactory logging) : IHostedService
{
    private BoardHost? board;

    public async Task StartAsync(CancellationToken cancellationToken)
    {
        board = await BoardHost.StartAsync(data, settings, options, time, logging, cancellationToken);
        var logger = logging.CreateLogger<BoardService>();
        Listening(logger, board.Address);
    }

    public async Task StopAsync(CancellationToken cancellationToken)
    {
        if (board is not null)
        {
            await board.DisposeAsync();
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "The Board is at {Address}")]
    private static partial void Listening(ILogger logger, string address);
}
