using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Vanehour.Board;
using Vanehour.Host.Composition;

namespace Vanehour.Host.Pages;

/// <summary>
/// Shows the Board beside a worker. Where it cannot listen it says so and tries again: pages that cannot be shown must not stop the intake.
/// </summary>
/// <param name="data">The data folder.</param>
/// <param name="settings">The settings.</param>
/// <param name="options">Where it listens.</param>
/// <param name="time">The clock.</param>
/// <param name="logging">Where it writes.</param>
internal sealed partial class BoardService(DataFolder data, IConfiguration settings, BoardOptions options, TimeProvider time, ILoggerFactory logging) : BackgroundService
{
    private static readonly TimeSpan TryAgain = TimeSpan.FromSeconds(30);

    private readonly ILogger logger = logging.CreateLogger<BoardService>();
    private BoardHost? board;

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        if (board is not null)
        {
            await board.DisposeAsync();
        }
    }

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        for (string? said = null; board is null; await Task.Delay(TryAgain, time, stoppingToken))
        {
            try
            {
                board = await BoardHost.StartAsync(data, settings, options, time, logging, stoppingToken);
                Listening(logger, board.Address);
                return;
            }
            catch (Exception e) when (e is not OperationCanceledException || !stoppingToken.IsCancellationRequested)
            {
                if (said != e.Message)
                {
                    Away(logger, e.Message);
                }

                said = e.Message;
            }
        }
    }

    [LoggerMessage(Level = LogLevel.Information, Message = "The Board is at {Address}")]
    private static partial void Listening(ILogger logger, string address);

    [LoggerMessage(Level = LogLevel.Error, Message = "The Board is not shown for now, the rest goes on: {Reason}")]
    private static partial void Away(ILogger logger, string reason);
}
