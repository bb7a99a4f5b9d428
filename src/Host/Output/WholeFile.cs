namespace Vanehour.Host.Output;

/// <summary>Writes a file under its name only when it is whole.</summary>
internal static class WholeFile
{
    /// <summary>Writes it; one that is there is replaced.</summary>
    public static async Task WriteAsync(string path, byte[] content, CancellationToken cancellationToken)
    {
        var full = Path.GetFullPath(path);
        var part = full + ".part";
        try
        {
            await File.WriteAllBytesAsync(part, content, cancellationToken);
            File.Move(part, full, overwrite: true);
        }
        catch
        {
            File.Delete(part);
            throw;
        }
    }
}
