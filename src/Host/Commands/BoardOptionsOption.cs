using System.CommandLine;
using Vanehour.Board;

namespace Vanehour.Host.Commands;

/// <summary>The options that say where the Board listens.</summary>
internal sealed class BoardOptionsOption
{
    private readonly Option<int?> port = new("--board-port") { Description = "The Board's port (default: as set in Board:Port, 8460; 0: any free one).", HelpName = "PORT" };

    public void AddTo(Command command)
    {
        command.Options.Add(port);
        command.Validators.Add(result =>
        {
            if (result.TryGet(port, out var given) && given is < 0 or > 65535)
            {
                result.AddError("--board-port must lie between 0 and 65535.");
            }
        });
    }

    /// <summary>Puts what is given over the settings.</summary>
    public void Over(BoardOptions options, ParseResult parsed) => options.Port = parsed.GetValue(port) ?? options.Port;
}
