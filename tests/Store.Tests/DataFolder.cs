namespace Vanehour.Store.Tests;

/// <summary>A folder of a test's own, gone afterwards.</summary>
public sealed class DataFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("vanehour-store-").FullName;

    public string File(string name) => System.IO.Path.Combine(Path, name);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
