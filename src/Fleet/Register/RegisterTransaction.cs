using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Servicing;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Fleet.Register;

/// <summary>The register inside a transaction. Service records change through it only, so that none changes without its entry in the history.</summary>
internal sealed class RegisterTransaction(SqliteConnection connection, SqliteTransaction transaction, string path)
{
    private const string ChangeColumns = "id, at_ms, key, truck, by, action, why, before, after";

    public IReadOnlyList<PumpModel> PumpModels() => [.. Rows("SELECT body FROM pump_model ORDER BY model", r => Parse(r.GetString(0), FleetJson.Default.PumpModel))];

    public IReadOnlyList<Truck> Trucks() => [.. Rows("SELECT body FROM truck ORDER BY truck", r => Parse(r.GetString(0), FleetJson.Default.Truck))];

    /// <summary>Every service record under its key.</summary>
    public IReadOnlyList<HeldRecord> ServiceRecords() =>
        [.. Rows("SELECT key, body FROM service_record ORDER BY at_ms, key", r => new HeldRecord(r.GetString(0), Parse(r.GetString(1), FleetJson.Default.ServiceRecord)))];

    /// <summary>The history in the order in which it came about; of the records that are or were of one truck, or of all.</summary>
    public IReadOnlyList<ServiceChange> Changes(string? truck) =>
        [.. Rows($"SELECT {ChangeColumns} FROM service_change ORDER BY id", ReadChange).Where(c => truck is null || c.Truck == truck || c.Before?.Truck == truck)];

    public bool Put(PumpModel model) => Run(
        """
        INSERT INTO pump_model(model, body) VALUES($model, $body)
        ON CONFLICT(model) DO UPDATE SET body = excluded.body WHERE body IS NOT excluded.body
        """,
        ("$model", model.Model),
        ("$body", JsonSerializer.Serialize(model, FleetJson.Default.PumpModel))) > 0;

    public bool Put(Truck truck) => Run(
        """
        INSERT INTO truck(truck, yard, pump_model, body) VALUES($truck, $yard, $model, $body)
        ON CONFLICT(truck) DO UPDATE SET yard = excluded.yard, pump_model = excluded.pump_model, body = excluded.body
        WHERE body IS NOT excluded.body
        """,
        ("$truck", truck.Id),
        ("$yard", truck.Yard),
        ("$model", truck.PumpModel),
        ("$body", JsonSerializer.Serialize(truck, FleetJson.Default.Truck))) > 0;

    /// <summary>Adds a record, or replaces the one under <paramref name="formerKey"/> by it; says whether that changed anything.</summary>
    /// <param name="formerKey">The key under which it is kept so far, or that it gets.</param>
    /// <param name="record">The record.</param>
    /// <param name="at">The present.</param>
    /// <param name="by">Who does it.</param>
    /// <param name="why">Why.</param>
    public bool Put(string formerKey, ServiceRecord record, DateTimeOffset at, string? by, string? why)
    {
        var body = JsonSerializer.Serialize(record, FleetJson.Default.ServiceRecord);
        var former = Rows("SELECT body FROM service_record WHERE key = $key", r => r.GetString(0), ("$key", formerKey)).SingleOrDefault();
        if (former == body)
        {
            return false;
        }

        var key = FleetRegister.KeyOf(record);
        if (key != formerKey)
        {
            Run("DELETE FROM service_record WHERE key = $key", ("$key", formerKey));
        }

        Run(
            """
            INSERT INTO service_record(key, truck, at_ms, kind, body) VALUES($key, $truck, $at, $kind, $body)
            ON CONFLICT(key) DO UPDATE SET truck = excluded.truck, at_ms = excluded.at_ms, kind = excluded.kind, body = excluded.body
            """,
            ("$key", key),
            ("$truck", record.Truck),
            ("$at", record.At.ToUnixTimeMilliseconds()),
            ("$kind", ServiceKindInfo.Of(record.Kind).Name),
            ("$body", body));
        Log(at, key, record.Truck, by, former is null ? ServiceChangeKind.Added : ServiceChangeKind.Changed, why, former, body);
        return true;
    }

    /// <summary>Deletes the record under a key.</summary>
    public void Delete(HeldRecord held, DateTimeOffset at, string? by, string? why)
    {
        Run("DELETE FROM service_record WHERE key = $key", ("$key", held.Token));
        Log(at, held.Token, held.Record.Truck, by, ServiceChangeKind.Deleted, why, JsonSerializer.Serialize(held.Record, FleetJson.Default.ServiceRecord), null);
    }

    private void Log(DateTimeOffset at, string key, string truck, string? by, ServiceChangeKind action, string? why, string? before, string? after) => Run(
        "INSERT INTO service_change(at_ms, key, truck, by, action, why, before, after) VALUES($at, $key, $truck, $by, $action, $why, $before, $after)",
        ("$at", at.ToUnixTimeMilliseconds()),
        ("$key", key),
        ("$truck", truck),
        ("$by", by),
        ("$action", action.ToString()),
        ("$why", why),
        ("$before", before),
        ("$after", after));

    private ServiceChange ReadChange(SqliteDataReader row) => new()
    {
        Number = row.GetInt64(0),
        At = DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(1)),
        Key = row.GetString(2),
        Truck = row.GetString(3),
        By = Text(row, 4),
        Action = Enum.Parse<ServiceChangeKind>(row.GetString(5)),
        Why = Text(row, 6),
        Before = Text(row, 7) is { } before ? Parse(before, FleetJson.Default.ServiceRecord) : null,
        After = Text(row, 8) is { } after ? Parse(after, FleetJson.Default.ServiceRecord) : null,
    };

    private static string? Text(SqliteDataReader row, int column) => row.IsDBNull(column) ? null : row.GetString(column);

    private T Parse<T>(string body, JsonTypeInfo<T> type)
    {
        try
        {
            return JsonSerializer.Deserialize(body, type) ?? throw new DatabaseException($"{path} holds an empty entry; restore it from a backup.");
        }
        catch (JsonException e)
        {
            throw new DatabaseException($"{path} holds an entry that cannot be read; restore it from a backup.", e);
        }
    }

    private List<T> Rows<T>(string sql, Func<SqliteDataReader, T> read, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(sql, values);
        using var reader = command.ExecuteReader();
        var rows = new List<T>();
        while (reader.Read())
        {
            rows.Add(read(reader));
        }

        return rows;
    }

    private int Run(string sql, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        using var command = Command(sql, values);
        return Convert.ToInt32(command.ExecuteNonQuery(), CultureInfo.InvariantCulture);
    }

    private SqliteCommand Command(string sql, ReadOnlySpan<(string Name, object? Value)> values)
    {
        var command = connection.CreateCommand();
        command.Transaction = transaction;
#pragma warning disable CA2100 // Only the constant statements above come here.
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (var (name, value) in values)
        {
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        }

        return command;
    }
}
