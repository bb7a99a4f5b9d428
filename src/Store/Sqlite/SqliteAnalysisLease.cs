using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;

namespace Vanehour.Store.Sqlite;

/// <summary>The lease in fleet.db, shared by every process that works on the data folder.</summary>
public sealed class SqliteAnalysisLease : IAnalysisLease
{
    private const string Name = "analysis";

    private readonly SqliteDatabase database;
    private readonly TimeProvider clock;

    /// <summary>A lease in <paramref name="database"/>, opened with <see cref="FleetSchema"/>.</summary>
    public SqliteAnalysisLease(SqliteDatabase database, TimeProvider clock)
    {
        ArgumentNullException.ThrowIfNull(database);
        ArgumentNullException.ThrowIfNull(clock);
        this.database = database;
        this.clock = clock;
    }

    /// <inheritdoc/>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="duration"/> is not positive.</exception>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; the lease was not taken.</exception>
    public bool TryTake(string holder, TimeSpan duration, out string currentHolder)
    {
        ArgumentException.ThrowIfNullOrEmpty(holder);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(duration, TimeSpan.Zero);
        var now = clock.GetUtcNow().ToUnixTimeMilliseconds();
        var expires = now + (long)Math.Ceiling(duration.TotalMilliseconds);
        currentHolder = database.Change(transaction =>
        {
            var other = LiveHolder(transaction, now);
            if (other is not null && !string.Equals(other, holder, StringComparison.Ordinal))
            {
                return other;
            }

            transaction.Execute(
                """
                INSERT INTO lease(name, holder, taken_ms, expires_ms) VALUES($name, $holder, $now, $expires)
                ON CONFLICT DO UPDATE SET holder=$holder, taken_ms=$now, expires_ms=$expires
                """,
                ("$name", Name),
                ("$holder", holder),
                ("$now", now),
                ("$expires", expires));
            return holder;
        });
        return string.Equals(currentHolder, holder, StringComparison.Ordinal);
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; the lease runs out by itself.</exception>
    public void Release(string holder)
    {
        ArgumentException.ThrowIfNullOrEmpty(holder);
        database.Change(t => t.Execute("DELETE FROM lease WHERE name=$name AND holder=$holder", ("$name", Name), ("$holder", holder)));
    }

    private static string? LiveHolder(SqliteTransaction transaction, long nowMs)
    {
        using var command = transaction.Command("SELECT holder, taken_ms, expires_ms FROM lease WHERE name=$name", ("$name", Name));
        using var reader = command.ExecuteReader();
        if (!reader.Read())
        {
            return null;
        }

        var taken = reader.GetInt64(1);
        var expires = reader.GetInt64(2);

        // Taken further ahead than it is long: the clock was set back since, and waiting for it to catch up could take for ever.
        var isLive = nowMs < expires && taken - nowMs <= expires - taken;
        return isLive ? reader.GetString(0) : null;
    }
}
