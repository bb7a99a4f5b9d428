using System.Runtime.CompilerServices;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Store.Sqlite;

/// <summary>
/// One writer at a time on a database inside this process. SQLite would also make the second wait, but by polling with growing
/// pauses; a semaphore hands over at once and leaves SQLite's lock for other processes.
/// </summary>
internal static class WriteGate
{
    private static readonly ConditionalWeakTable<SqliteDatabase, SemaphoreSlim> Gates = new();

    /// <summary>The gate shared by all that write through <paramref name="database"/>.</summary>
    public static SemaphoreSlim Of(SqliteDatabase database) => Gates.GetValue(database, static _ => new SemaphoreSlim(1, 1));

    /// <summary>Runs <paramref name="work"/> behind the gate, off the caller's thread because SQLite blocks.</summary>
    public static async Task<T> WriteAsync<T>(this SqliteDatabase database, Func<T> work, CancellationToken cancellationToken)
    {
        var gate = Of(database);
        await gate.WaitAsync(cancellationToken);
        try
        {
            return await Task.Run(work, CancellationToken.None);
        }
        finally
        {
            gate.Release();
        }
    }
}
