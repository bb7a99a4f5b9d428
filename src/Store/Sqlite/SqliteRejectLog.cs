using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Rejects;

namespace Vanehour.Store.Sqlite;

/// <summary>
/// Rejects in samples.db. However many different ones arrive, at most a set number is kept and those not met for longest give way;
/// the counts by reason go on for ever.
/// </summary>
public sealed class SqliteRejectLog : IRejectLog
{
    /// <summary>How many different rejects are kept unless told otherwise: at 4 KiB each this bounds the log to about 400 MB. Invented.</summary>
    public const int DefaultKeepDistinct = 100_000;

    private readonly SqliteDatabase database;
    private readonly int keepDistinct;

    /// <summary>A log in <paramref name="database"/>, opened with <see cref="SamplesSchema"/>.</summary>
    /// <param name="database">The database.</param>
    /// <param name="keepDistinct">How many different rejects to keep, at least 1.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="keepDistinct"/> is below 1.</exception>
    public SqliteRejectLog(SqliteDatabase database, int keepDistinct = DefaultKeepDistinct)
    {
        ArgumentNullException.ThrowIfNull(database);
        ArgumentOutOfRangeException.ThrowIfLessThan(keepDistinct, 1);
        this.database = database;
        this.keepDistinct = keepDistinct;
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The log cannot take the rejects now; none was kept.</exception>
    public async Task AddAsync(IReadOnlyList<Reject> rejects, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(rejects);
        cancellationToken.ThrowIfCancellationRequested();
        if (rejects.Count > 0)
        {
            await database.WriteAsync(() => database.Change(t => Add(t, rejects, cancellationToken)), cancellationToken);
        }
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The log cannot be read now.</exception>
    public Task<IReadOnlyList<StoredReject>> ReadAsync(int limit, CancellationToken cancellationToken)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(limit);
        return Task.Run(
            () => database.Read<IReadOnlyList<StoredReject>>(connection =>
            {
                using var command = connection.Command(
                    """
                    SELECT topic, arrived_ms, reason, detail, payload, last_arrived_ms, times FROM reject
                    ORDER BY last_arrived_ms DESC, id DESC LIMIT $limit
                    """,
                    ("$limit", limit));
                using var reader = command.ExecuteReader();
                var rows = new List<StoredReject>();
                while (reader.Read())
                {
                    var reject = new Reject(
                        reader.GetString(0), reader.GetInt64(1), Reason(reader.GetString(2)), reader.GetString(3), reader.GetFieldValue<byte[]>(4));
                    rows.Add(new StoredReject(reject, reader.GetInt64(5), reader.GetInt64(6)));
                }

                return rows;
            }),
            cancellationToken);
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The log cannot be read now.</exception>
    public Task<IReadOnlyDictionary<RejectReason, long>> CountAsync(CancellationToken cancellationToken) => Task.Run(
        () => database.Read<IReadOnlyDictionary<RejectReason, long>>(connection =>
        {
            using var command = connection.Command("SELECT reason, times FROM reject_count");
            using var reader = command.ExecuteReader();
            var counts = new Dictionary<RejectReason, long>();
            while (reader.Read())
            {
                counts.Add(Reason(reader.GetString(0)), reader.GetInt64(1));
            }

            return counts;
        }),
        cancellationToken);

    private static ReadOnlyMemory<byte> Kept(Reject reject) => reject.Payload[..Math.Min(reject.Payload.Length, Reject.KeptBytes)];

    // Each part goes in behind its length, so that no two rejects run together to the same bytes.
    private static byte[] Key(Reject reject)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Append(Encoding.UTF8.GetBytes(reject.Topic));
        Append(Encoding.UTF8.GetBytes(reject.Reason.ToString()));
        Append(Encoding.UTF8.GetBytes(reject.Detail));
        Append(Kept(reject).Span);
        return hash.GetHashAndReset();

        void Append(ReadOnlySpan<byte> part)
        {
            Span<byte> length = stackalloc byte[sizeof(int)];
            BinaryPrimitives.WriteInt32LittleEndian(length, part.Length);
            hash.AppendData(length);
            hash.AppendData(part);
        }
    }

    private static void Add(SqliteTransaction transaction, Reject reject)
    {
        var key = Key(reject);
        var isRepeat = transaction.Execute(
            """
            UPDATE reject SET times=times+1, arrived_ms=min(arrived_ms, $arrived), last_arrived_ms=max(last_arrived_ms, $arrived) WHERE key=$key
            """,
            ("$key", key),
            ("$arrived", reject.ArrivedMs)) > 0;
        var reason = reject.Reason.ToString();
        if (!isRepeat)
        {
            transaction.Execute(
                """
                INSERT INTO reject(key, topic, reason, detail, payload, arrived_ms, last_arrived_ms, times)
                VALUES($key, $topic, $reason, $detail, $payload, $arrived, $arrived, 1)
                """,
                ("$key", key),
                ("$topic", reject.Topic),
                ("$reason", reason),
                ("$detail", reject.Detail),
                ("$payload", Kept(reject).ToArray()),
                ("$arrived", reject.ArrivedMs));
        }

        transaction.Execute(
            """
            INSERT INTO reject_count(reason, times, kept) VALUES($reason, 1, $new)
            ON CONFLICT DO UPDATE SET times=times+1, kept=kept+$new
            """,
            ("$reason", reason),
            ("$new", isRepeat ? 0 : 1));
    }

    private static RejectReason Reason(string name) => Enum.TryParse<RejectReason>(name, out var reason)
        ? reason
        : throw new DatabaseException($"The reject log holds the reason {name}, which this program does not know; use the newer Vanehour that wrote it.");

    private int Add(SqliteTransaction transaction, IReadOnlyList<Reject> rejects, CancellationToken cancellationToken)
    {
        foreach (var reject in rejects)
        {
            cancellationToken.ThrowIfCancellationRequested();
            Add(transaction, reject);
        }

        using var kept = transaction.Command("SELECT sum(kept) FROM reject_count");
        var excess = (long)kept.ExecuteScalar()! - keepDistinct;
        if (excess > 0)
        {
            Evict(transaction, excess);
        }

        cancellationToken.ThrowIfCancellationRequested();
        return rejects.Count;
    }

    private static void Evict(SqliteTransaction transaction, long excess)
    {
        var evicted = new Dictionary<string, long>(StringComparer.Ordinal);
        using (var delete = transaction.Command(
            "DELETE FROM reject WHERE id IN (SELECT id FROM reject ORDER BY last_arrived_ms, id LIMIT $excess) RETURNING reason",
            ("$excess", excess)))
        using (var reader = delete.ExecuteReader())
        {
            while (reader.Read())
            {
                var reason = reader.GetString(0);
                evicted[reason] = evicted.GetValueOrDefault(reason) + 1;
            }
        }

        foreach (var (reason, count) in evicted)
        {
            transaction.Execute("UPDATE reject_count SET kept=kept-$count WHERE reason=$reason", ("$count", count), ("$reason", reason));
        }
    }
}
