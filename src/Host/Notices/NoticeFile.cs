using System.Text.Json;

namespace Vanehour.Host.Notices;

/// <summary>Remembers in a small file of the data folder what a channel was last told, so that a restart tells nothing twice.</summary>
public sealed class NoticeFile
{
    private readonly string path;
    private readonly Dictionary<string, PublishedNotice> published;

    private NoticeFile(string path, Dictionary<string, PublishedNotice> published)
    {
        this.path = path;
        this.published = published;
    }

    /// <summary>What was told, by key.</summary>
    public IReadOnlyDictionary<string, PublishedNotice> Published => published;

    /// <summary>Opens the memory of a channel; one that cannot be read counts as empty: open findings are told again, which is better than never.</summary>
    public static NoticeFile Open(string folder, string channel)
    {
        var path = Path.Combine(folder, $"notices-{channel}.json");
        Dictionary<string, PublishedNotice>? held = null;
        if (File.Exists(path))
        {
            try
            {
                held = JsonSerializer.Deserialize(File.ReadAllBytes(path), NoticeJson.Default.DictionaryStringPublishedNotice);
            }
            catch (JsonException)
            {
                // As if there were none.
            }
        }

        return new NoticeFile(path, held is null ? [] : new(held, StringComparer.Ordinal));
    }

    /// <summary>Forgets everything: the receiver has forgotten it too.</summary>
    public void Clear()
    {
        published.Clear();
        Write();
    }

    /// <summary>Notes that a key was told; null that nothing stands there any more.</summary>
    public void Note(string key, PublishedNotice? told)
    {
        if (told is null)
        {
            published.Remove(key);
        }
        else
        {
            published[key] = told;
        }

        Write();
    }

    private void Write()
    {
        var part = path + ".part";
        File.WriteAllBytes(part, JsonSerializer.SerializeToUtf8Bytes(published, NoticeJson.Default.DictionaryStringPublishedNotice));
        File.Move(part, path, overwrite: true);
    }
}
