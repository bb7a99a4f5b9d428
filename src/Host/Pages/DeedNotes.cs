using System.Globalization;
using System.Text.Json;

namespace Vanehour.Host.Pages;

/// <summary>Notes what people did through the Board, with who and when: a JSON object a line, in a file that its owner alone may read.</summary>
/// <param name="folder">The data folder.</param>
/// <param name="time">The clock.</param>
internal sealed class DeedNotes(string folder, TimeProvider time)
{
    /// <summary>The file's name in the data folder.</summary>
    public const string FileName = "board-deeds.jsonl";

    /// <summary>Opens the file for one note.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public FileStream Open()
    {
        var options = new FileStreamOptions { Mode = FileMode.Append, Access = FileAccess.Write, Share = FileShare.ReadWrite, BufferSize = 0 };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        return new FileStream(Path.Combine(folder, FileName), options);
    }

    /// <summary>Notes a deed; it is written when this returns.</summary>
    /// <exception cref="IOException">It cannot be written.</exception>
    public void Note(FileStream file, string by, IEnumerable<string> deed, bool isDone)
    {
        using var line = new MemoryStream();
        using (var json = new Utf8JsonWriter(line))
        {
            json.WriteStartObject();
            json.WriteString("at", time.GetUtcNow().UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture));
            json.WriteString("by", by);
            json.WriteStartArray("deed");
            foreach (var part in deed)
            {
                json.WriteStringValue(part);
            }

            json.WriteEndArray();
            json.WriteBoolean("done", isDone);
            json.WriteEndObject();
        }

        line.WriteByte((byte)'\n');
        file.Write(line.ToArray());
    }
}
