using Vanehour.Host;

namespace Vanehour.Board.Tests.Running;

/// <summary>The command line, in this process, over a data folder.</summary>
internal static class CommandLine
{
    /// <summary>Runs a command that must succeed, and gives what it wrote.</summary>
    public static async Task<string> RunAsync(string folder, params string[] args)
    {
        var (code, output, error) = await TryAsync(folder, args);
        Assert.True(code == ExitCode.Done, error);
        return output;
    }

    /// <summary>Runs a command.</summary>
    public static async Task<(int Code, string Out, string Error)> TryAsync(string folder, params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await Cli.RunAsync([.. args, "--data", folder], new CliEnvironment(output, error, TimeProvider.System, ErrorIsTerminal: false));
        return (code, output.ToString(), error.ToString());
    }

    /// <summary>Lets somebody sign in, or changes the password.</summary>
    public static async Task AddPersonAsync(string folder, string name, string password, string role)
    {
        var file = Path.Combine(folder, "password");
        await File.WriteAllTextAsync(file, password + "\n");
        await RunAsync(folder, "user", "add", name, "--role", role, "--password-file", file);
        File.Delete(file);
    }
}
