using Vanehour.Host.Commands;

namespace Vanehour.Host.Output;

/// <summary>A command line that can be copied as it stands: the way this program was started, and its data folder where that is not the default one.</summary>
internal static class Invocation
{
    // Where the SDK puts what 'dotnet run' starts from a checkout.
    private static readonly string BuildFolder = Path.Combine("src", "Host", "bin");

    public static string Of(string command, string dataFolder)
    {
        var isDefault = string.Equals(Path.GetFullPath(GlobalOptions.DefaultFolder), dataFolder, StringComparison.Ordinal);
        return $"{Program()}{command}{(isDefault ? string.Empty : " --data " + Quoted(dataFolder))}";
    }

    private static string Program()
    {
        var at = AppContext.BaseDirectory.IndexOf(BuildFolder, StringComparison.Ordinal);
        if (at < 0)
        {
            return "vanehour ";
        }

        var project = Path.GetRelativePath(Environment.CurrentDirectory, Path.Combine(AppContext.BaseDirectory[..at], "src", "Host"));
        return $"dotnet run --project {Quoted(project)} -c Release -- ";
    }

    private static string Quoted(string path) => path.Contains(' ', StringComparison.Ordinal) ? $"\"{path}\"" : path;
}
