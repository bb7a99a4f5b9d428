using System.Text;
using System.Text.Json;
using Vanehour.Board.Desk;
using Vanehour.Host.Output;

namespace Vanehour.Host.Pages;

/// <summary>Takes what a command says: tables as tables, the rest as sentences.</summary>
internal sealed class DeskOutput : StringWriter, ITableTaker
{
    /// <summary>The first argument by which the Board asks a process of its own for a listing as tables and sentences, in JSON.</summary>
    public const string Switch = "--desk";

    private readonly List<DeskTable> tables = [];

    /// <summary>The tables so far.</summary>
    public IReadOnlyList<DeskTable> Tables => tables;

    /// <summary>The lines so far that say something.</summary>
    public IReadOnlyList<string> Sentences => [.. ToString().Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0)];

    /// <inheritdoc/>
    public override Encoding Encoding => Encoding.UTF8;

    public void Take(IReadOnlyList<(string Name, string Heading, bool IsNumber)> columns, IReadOnlyList<IReadOnlyList<string>> rows) =>
        tables.Add(new DeskTable([.. columns.Select(c => new DeskColumn(c.Name, c.Heading, c.IsNumber))], rows));

    /// <summary>Runs a command and writes what it says as JSON.</summary>
    /// <param name="args">The command line without the switch.</param>
    /// <param name="environment">Where to.</param>
    public static async Task<int> RunAsync(string[] args, CliEnvironment environment)
    {
        using var output = new DeskOutput();
        var code = await Cli.RunAsync(args, environment with { Out = output }, isInside: true);
        if (code == ExitCode.Done)
        {
            await environment.Out.WriteLineAsync(JsonSerializer.Serialize(new DeskListing(output.Tables, output.Sentences, Made: true), DeskJson.Default.DeskListing));
        }

        return code;
    }
}
