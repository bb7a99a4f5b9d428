namespace Vanehour.Store.Outbox;

/// <summary>Lets one process at a time forward from an outbox: two would overtake each other. The system takes the lock back when a process dies, whatever it died of.</summary>
internal static class ForwarderLock
{
    /// <summary>Takes the lock beside a database; null while another process has it.</summary>
    /// <exception cref="StoreUnavailableException">The file cannot be made.</exception>
    public static FileStream? TryTake(string databasePath)
    {
        var path = databasePath + ".forwarder";
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, 1);
        }
        catch (UnauthorizedAccessException e)
        {
            throw new StoreUnavailableException($"{path} cannot be written; check the folder's permissions.", e);
        }
        catch (IOException) when (File.Exists(path))
        {
            return null;
        }
        catch (IOException e)
        {
            throw new StoreUnavailableException($"{path} cannot be made ({e.Message}); check the disk.", e);
        }
    }
}
