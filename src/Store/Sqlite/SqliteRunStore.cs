using System.Text.Json;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Runs;

namespace Vanehour.Store.Sqlite;

/// <summary>Runs in fleet.db, each as one JSON document beside the columns that are searched. Instants count to the millisecond.</summary>
public sealed class SqliteRunStore : IRunStore
{
    private readonly SqliteDatabase database;

    /// <summary>A store on <paramref name="database"/>, opened with <see cref="FleetSchema"/>.</summary>
    public SqliteRunStore(SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    /// <exception cref="DatabaseException">A run was written by another version in a way this one cannot read.</exception>
    public IReadOnlyList<Run> Read(string truck, DateTimeOffset? from = null, DateTimeOffset? to = null)
    {
        ArgumentNullException.ThrowIfNull(truck);
        return database.Read(connection =>
        {
            using var command = connection.Command(
                "SELECT body FROM run WHERE truck=$truck AND start_ms>=$from AND start_ms<$to ORDER BY start_ms",
                ("$truck", truck),
                ("$from", from?.ToUnixTimeMilliseconds() ?? long.MinValue),
                ("$to", to?.ToUnixTimeMilliseconds() ?? long.MaxValue));
            using var reader = command.ExecuteReader();
            var runs = new List<Run>();
            while (reader.Read())
            {
                runs.Add(Parse(reader.GetString(0)));
            }

            return runs;
        });
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public DateTimeOffset? SettledAt(string truck)
    {
        ArgumentNullException.ThrowIfNull(truck);
        return database.Read(connection =>
        {
            using var command = connection.Command("SELECT settled_ms FROM run_settled WHERE truck=$truck", ("$truck", truck));
            return command.ExecuteScalar() is long ms ? DateTimeOffset.FromUnixTimeMilliseconds(ms) : (DateTimeOffset?)null;
        });
    }

    /// <summary>
    /// In one transaction: drops the truck's runs that start at or after <paramref name="from"/>, adds <paramref name="runs"/>, and sets the
    /// settled instant (null: nothing is settled).
    /// </summary>
    /// <exception cref="ArgumentException">A run is of another truck, starts before <paramref name="from"/>, or starts when another of them does.</exception>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; nothing was replaced.</exception>
    public void Replace(string truck, DateTimeOffset from, IReadOnlyList<Run> runs, DateTimeOffset? settledAt)
    {
        ArgumentException.ThrowIfNullOrEmpty(truck);
        ArgumentNullException.ThrowIfNull(runs);
        var fromMs = from.ToUnixTimeMilliseconds();
        Check(truck, fromMs, runs);
        var bodies = runs.Select(r => JsonSerializer.Serialize(r, RunJson.Default.Run)).ToList();
        database.Change(transaction =>
        {
            transaction.Execute("DELETE FROM run WHERE truck=$truck AND start_ms>=$from", ("$truck", truck), ("$from", fromMs));
            Add(transaction, runs, bodies);
            if (settledAt is { } settled)
            {
                transaction.Execute(
                    "INSERT INTO run_settled(truck, settled_ms) VALUES($truck, $settled) ON CONFLICT DO UPDATE SET settled_ms=$settled",
                    ("$truck", truck),
                    ("$settled", settled.ToUnixTimeMilliseconds()));
            }
            else
            {
                transaction.Execute("DELETE FROM run_settled WHERE truck=$truck", ("$truck", truck));
            }

            return runs.Count;
        });
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be read now.</exception>
    public string? BasisOf(string truck)
    {
        ArgumentNullException.ThrowIfNull(truck);
        return database.Read(connection =>
        {
            using var command = connection.Command("SELECT body FROM run_basis WHERE truck=$truck", ("$truck", truck));
            return command.ExecuteScalar() as string;
        });
    }

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The database cannot be changed now; what was kept stays.</exception>
    public void NoteBasis(string truck, string basis)
    {
        ArgumentException.ThrowIfNullOrEmpty(truck);
        ArgumentException.ThrowIfNullOrEmpty(basis);
        database.Change(t => t.Execute(
            "INSERT INTO run_basis(truck, body) VALUES($truck, $body) ON CONFLICT DO UPDATE SET body=$body", ("$truck", truck), ("$body", basis)));
    }

    private static void Check(string truck, long fromMs, IReadOnlyList<Run> runs)
    {
        var starts = new HashSet<long>();
        foreach (var run in runs)
        {
            var start = run.Start.ToUnixTimeMilliseconds();
            if (!string.Equals(run.Truck, truck, StringComparison.Ordinal) || start < fromMs || !starts.Add(start))
            {
                throw new ArgumentException(
                    $"The run of {run.Truck} at {run.Start:O} is of another truck than {truck}, before what is replaced, or there twice.", nameof(runs));
            }
        }
    }

    private static void Add(SqliteTransaction transaction, IReadOnlyList<Run> runs, List<string> bodies)
    {
        using var insert = transaction.Command("INSERT INTO run(truck, start_ms, end_ms, hours_h, body) VALUES($truck, $start, $end, $hours, $body)");
        var truck = insert.Parameters.Add("$truck", SqliteType.Text);
        var start = insert.Parameters.Add("$start", SqliteType.Integer);
        var end = insert.Parameters.Add("$end", SqliteType.Integer);
        var hours = insert.Parameters.Add("$hours", SqliteType.Real);
        var body = insert.Parameters.Add("$body", SqliteType.Text);
        for (var i = 0; i < runs.Count; i++)
        {
            truck.Value = runs[i].Truck;
            start.Value = runs[i].Start.ToUnixTimeMilliseconds();
            end.Value = runs[i].End.ToUnixTimeMilliseconds();
            hours.Value = runs[i].HoursH;
            body.Value = bodies[i];
            insert.ExecuteNonQuery();
        }
    }

    private Run Parse(string body)
    {
        try
        {
            return JsonSerializer.Deserialize(body, RunJson.Default.Run)!;
        }
        catch (JsonException e)
        {
            throw new DatabaseException($"A run in {database.Path} cannot be read; use the version of Vanehour that wrote it or a newer one.", e);
        }
    }
}
