using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;

namespace Vanehour.Store.Sqlite;

/// <summary>Findings in fleet.db.</summary>
public sealed class SqliteFindingStore : IFindingStore
{
    private const string All = "SELECT id, truck, kind, status, since_ms, body FROM finding";

    private readonly SqliteDatabase database;

    /// <summary>A store on <paramref name="database"/>, opened with <see cref="FleetSchema"/>.</summary>
    public SqliteFindingStore(SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public IReadOnlyList<FindingDocument> Read() => database.Read(connection =>
    {
        using var command = connection.Command(All);
        return Read(command);
    });

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was saved.</exception>
    public void Save(IReadOnlyList<FindingDocument> findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        database.Change(transaction => Save(transaction, findings));
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was saved.</exception>
    public void Update(Func<IReadOnlyList<FindingDocument>, IReadOnlyList<FindingDocument>> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        database.Change(transaction =>
        {
            using var command = transaction.Command(All);
            return Save(transaction, change(Read(command)));
        });
    }

    private static List<FindingDocument> Read(SqliteCommand command)
    {
        using var reader = command.ExecuteReader();
        var findings = new List<FindingDocument>();
        while (reader.Read())
        {
            findings.Add(new FindingDocument(
                reader.GetString(0),
                reader.IsDBNull(1) ? null : reader.GetString(1),
                reader.GetString(2),
                reader.GetString(3),
                reader.GetInt64(4),
                reader.GetString(5)));
        }

        findings.Sort((a, b) => a.SinceMs != b.SinceMs ? a.SinceMs.CompareTo(b.SinceMs) : string.CompareOrdinal(a.Id, b.Id));
        return findings;
    }

    private static int Save(SqliteTransaction transaction, IReadOnlyList<FindingDocument> findings)
    {
        foreach (var finding in findings)
        {
            transaction.Execute(
                """
                INSERT INTO finding(id, truck, kind, status, since_ms, body) VALUES($id, $truck, $kind, $status, $since, $body)
                ON CONFLICT DO UPDATE SET truck=$truck, kind=$kind, status=$status, since_ms=$since, body=$body
                """,
                ("$id", finding.Id),
                ("$truck", finding.Truck),
                ("$kind", finding.Kind),
                ("$status", finding.Status),
                ("$since", finding.SinceMs),
                ("$body", finding.Json));
        }

        return findings.Count;
    }
}
