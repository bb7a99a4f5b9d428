namespace Vanehour.Host.Tests;

/// <summary>Runs a command line in this process, in a folder that is gone after the test.</summary>
internal sealed class CommandLine : IDisposable
{
    public string Folder { get; } = Directory.CreateTempSubdirectory("vanehour-cli-").FullName;

    /// <summary>The commands' clock.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;

    public string Data => Path.Combine(Folder, "data");

    public async Task<(int Code, string Out, string Error)> RunAsync(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        string[] all = args.Contains("--data") ? args : [.. args, "--data", Data];
        var code = await Cli.RunAsync(all, new CliEnvironment(output, error, Time, ErrorIsTerminal: false));
        return (code, output.ToString(), error.ToString());
    }

    public string File(string name, string content)
    {
        var path = Path.Combine(Folder, name);
        System.IO.File.WriteAllText(path, content);
        return path;
    }

    public void Dispose()
    {
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(Folder, recursive: true);
    }
}
