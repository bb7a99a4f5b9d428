using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;

namespace Vanehour.Store.Sqlite;

/// <summary>Results in fleet.db. Instants count to the millisecond.</summary>
public sealed class SqliteResultStore : IResultStore
{
    // Beside its documents every analysis has one row of empty kind and key: it says that there was an analysis even if it found nothing,
    // and the key tree finds the latest through these rows alone.
    private const string Mark = "";

    private readonly SqliteDatabase database;

    /// <summary>A store on <paramref name="database"/>, opened with <see cref="FleetSchema"/>.</summary>
    public SqliteResultStore(SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
    }

    /// <summary>
    /// In one transaction: replaces what an earlier analysis of the same instant saved, and keeps the last <paramref name="keepAnalyses"/>
    /// instants. The one being saved is always among those kept, however far back it lies.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="keepAnalyses"/> is below 1.</exception>
    /// <exception cref="ArgumentException">A document has no kind, or two have the same kind and key.</exception>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was saved.</exception>
    public void Save(DateTimeOffset asOf, IReadOnlyList<ResultDocument> documents, int keepAnalyses)
    {
        ArgumentNullException.ThrowIfNull(documents);
        ArgumentOutOfRangeException.ThrowIfLessThan(keepAnalyses, 1);
        if (documents.Any(d => string.IsNullOrEmpty(d.Kind)) || documents.DistinctBy(d => (d.Kind, d.Key)).Count() != documents.Count)
        {
            throw new ArgumentException("A result has no kind, or two have the same kind and key.", nameof(documents));
        }

        var asOfMs = asOf.ToUnixTimeMilliseconds();
        database.Change(transaction =>
        {
            transaction.Execute("DELETE FROM result WHERE as_of_ms=$asOf", ("$asOf", asOfMs));
            Add(transaction, asOfMs, documents.Prepend(new ResultDocument(Mark, Mark, "{}")));
            transaction.Execute(
                """
                DELETE FROM result WHERE as_of_ms NOT IN (
                    SELECT as_of_ms FROM result WHERE kind=$mark AND key=$mark ORDER BY as_of_ms=$asOf DESC, as_of_ms DESC LIMIT $keep)
                """,
                ("$mark", Mark),
                ("$asOf", asOfMs),
                ("$keep", keepAnalyses));
            return documents.Count;
        });
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public DateTimeOffset? LatestAsOf() => database.Read(connection =>
    {
        using var command = connection.Command("SELECT max(as_of_ms) FROM result WHERE kind=$mark AND key=$mark", ("$mark", Mark));
        return command.ExecuteScalar() is long ms ? DateTimeOffset.FromUnixTimeMilliseconds(ms) : (DateTimeOffset?)null;
    });

    /// <inheritdoc/>
    /// <exception cref="ArgumentException"><paramref name="kind"/> is empty.</exception>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public IReadOnlyList<ResultDocument> Read(DateTimeOffset asOf, string kind)
    {
        ArgumentException.ThrowIfNullOrEmpty(kind);
        return database.Read(connection =>
        {
            using var command = connection.Command(
                "SELECT key, body FROM result WHERE kind=$kind AND as_of_ms=$asOf", ("$kind", kind), ("$asOf", asOf.ToUnixTimeMilliseconds()));
            using var reader = command.ExecuteReader();
            var documents = new List<ResultDocument>();
            while (reader.Read())
            {
                documents.Add(new ResultDocument(kind, reader.GetString(0), reader.GetString(1)));
            }

            documents.Sort((a, b) => string.CompareOrdinal(a.Key, b.Key));
            return documents;
        });
    }

    /// <inheritdoc/>
    /// <exception cref="ArgumentException"><paramref name="kind"/> is empty.</exception>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public ResultDocument? Read(DateTimeOffset asOf, string kind, string key)
    {
        ArgumentException.ThrowIfNullOrEmpty(kind);
        return database.Read(connection =>
        {
            using var command = connection.Command(
                "SELECT body FROM result WHERE kind=$kind AND key=$key AND as_of_ms=$asOf", ("$kind", kind), ("$key", key), ("$asOf", asOf.ToUnixTimeMilliseconds()));
            return command.ExecuteScalar() is string body ? new ResultDocument(kind, key, body) : null;
        });
    }

    private static void Add(SqliteTransaction transaction, long asOfMs, IEnumerable<ResultDocument> documents)
    {
        using var insert = transaction.Command(
            "INSERT INTO result(kind, key, as_of_ms, body) VALUES($kind, $key, $asOf, $body)", ("$asOf", asOfMs));
        var kind = insert.Parameters.Add("$kind", SqliteType.Text);
        var key = insert.Parameters.Add("$key", SqliteType.Text);
        var body = insert.Parameters.Add("$body", SqliteType.Text);
        foreach (var document in documents)
        {
            kind.Value = document.Kind;
            key.Value = document.Key;
            body.Value = document.Json;
            insert.ExecuteNonQuery();
        }
    }
}
