namespace Vanehour.Host.Output;

/// <summary>Writes a file under its name only when it is whole.</summary>
internal static class WholeFile
{
    /// <summary>Writes it; one that is there is replaced.</summary>
    public static Task WriteAsync(string path, byte[] content, CancellationToken cancellationToken) => WriteAsync(path, async part =>
    {
        await File.WriteAllBytesAsync(part, content, cancellationToken);
        return content.Length;
    });

    /// <summary>Lets <paramref name="write"/> write into a file beside it, which then takes its name.</summary>
    public static async Task<T> WriteAsync<T>(string path, Func<string, Task<T>> write)
    {
        var full = Path.GetFullPath(path);
        var part = full + ".part";
        try
        {
            var result = await write(part);
            File.Move(part, full, overwrite: true);
            return result;
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }
}
