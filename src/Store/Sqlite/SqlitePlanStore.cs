using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Results;

namespace Vanehour.Store.Sqlite;

/// <summary>Plans and marks in fleet.db.</summary>
public sealed class SqlitePlanStore : IPlanStore
{
    private const long DayMs = 24L * 60 * 60 * 1000;
    private const long KeptMs = 400 * DayMs;

    private readonly SqliteDatabase database;

    /// <summary>A store on <paramref name="database"/>, opened with <see cref="FleetSchema"/>.</summary>
    public SqlitePlanStore(SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was saved.</exception>
    public void SavePlan(DateTimeOffset madeAt, DateTimeOffset asOf, string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        database.Change(transaction =>
        {
            transaction.Execute(
                "INSERT INTO plan(made_ms, as_of_ms, body) VALUES($made, $asOf, $body)",
                ("$made", madeAt.ToUnixTimeMilliseconds()),
                ("$asOf", asOf.ToUnixTimeMilliseconds()),
                ("$body", json));
            return transaction.Execute(
                """
                DELETE FROM plan WHERE id NOT IN (SELECT id FROM plan ORDER BY id DESC LIMIT 10)
                AND (as_of_ms < $oldest OR id NOT IN (SELECT max(id) FROM plan GROUP BY as_of_ms / $day))
                """,
                ("$oldest", asOf.ToUnixTimeMilliseconds() - KeptMs),
                ("$day", DayMs));
        });
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public string? LatestPlan(DateTimeOffset? asOf = null) => database.Read(connection =>
    {
        using var command = connection.Command("SELECT body FROM plan WHERE as_of_ms <= $asOf ORDER BY id DESC LIMIT 1");
        command.Parameters.AddWithValue("$asOf", asOf?.ToUnixTimeMilliseconds() ?? long.MaxValue);
        return command.ExecuteScalar() as string;
    });

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public IReadOnlyList<PlanMarkDocument> PlanMarks() => database.Read(connection =>
    {
        using var command = connection.Command("SELECT id, body FROM plan_mark ORDER BY id");
        using var reader = command.ExecuteReader();
        var marks = new List<PlanMarkDocument>();
        while (reader.Read())
        {
            marks.Add(new PlanMarkDocument(reader.GetInt64(0), reader.GetString(1)));
        }

        return marks;
    });

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was saved.</exception>
    public long AddPlanMark(string json, IReadOnlyList<long> replaced)
    {
        ArgumentNullException.ThrowIfNull(json);
        ArgumentNullException.ThrowIfNull(replaced);
        return database.Change(transaction =>
        {
            foreach (var id in replaced)
            {
                transaction.Execute("DELETE FROM plan_mark WHERE id = $id", ("$id", id));
            }

            transaction.Execute("INSERT INTO plan_mark(body) VALUES($body)", ("$body", json));
            using var command = transaction.Command("SELECT last_insert_rowid()");
            return (long)command.ExecuteScalar()!;
        });
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was changed.</exception>
    public bool RemovePlanMark(long id) => database.Change(transaction => transaction.Execute("DELETE FROM plan_mark WHERE id = $id", ("$id", id)) > 0);
}
