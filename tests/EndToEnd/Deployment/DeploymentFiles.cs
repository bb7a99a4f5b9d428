namespace Vanehour.EndToEnd.Deployment;

/// <summary>The files of docker/ as they are shipped.</summary>
internal static class DeploymentFiles
{
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "docker");

    public static string PathOf(string name) => Path.Combine(Folder, name);

    public static string Text(string name) => File.ReadAllText(PathOf(name));

    public static string[] Lines(string name) => File.ReadAllLines(PathOf(name));
}
