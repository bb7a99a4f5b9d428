using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Microsoft.Data.Sqlite;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Fleet.Register;

/// <summary>The register in fleet.db.</summary>
public sealed class FleetRegister : IFleetRegister
{
    private readonly SqliteDatabase database;

    /// <param name="database">fleet.db, opened with <see cref="FleetSchema.Current"/>.</param>
    public FleetRegister(SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
    }

    /// <summary>The key of a service record: its record id, else truck, instant, kind and meter.</summary>
    public static string KeyOf(ServiceRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        return record.RecordId is { } id
            ? $"id:{id}"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"at:{record.Truck}|{record.At.ToUnixTimeMilliseconds()}|{ServiceKindInfo.Of(record.Kind).Name}|{record.MeterH:R}");
    }

    /// <inheritdoc/>
    public IReadOnlyList<PumpModel> PumpModels() =>
        Read("SELECT body FROM pump_model ORDER BY model", null, FleetJson.Default.PumpModel);

    /// <inheritdoc/>
    public IReadOnlyList<Truck> Trucks() =>
        Read("SELECT body FROM truck ORDER BY truck", null, FleetJson.Default.Truck);

    /// <inheritdoc/>
    public IReadOnlyList<ServiceRecord> ServiceRecords(string? truck = null) =>
        Read("SELECT body FROM service_record WHERE $truck IS NULL OR truck = $truck ORDER BY at_ms, key", truck, FleetJson.Default.ServiceRecord);

    /// <inheritdoc/>
    public int Upsert(
        IReadOnlyCollection<PumpModel> models, IReadOnlyCollection<Truck> trucks, IReadOnlyCollection<ServiceRecord> records)
    {
        ArgumentNullException.ThrowIfNull(models);
        ArgumentNullException.ThrowIfNull(trucks);
        ArgumentNullException.ThrowIfNull(records);
        try
        {
            using var connection = database.Connect();
            using var transaction = connection.BeginTransaction(deferred: false);
            var changed = 0;
            using (var command = connection.CreateCommand())
            {
                command.CommandText = """
                    INSERT INTO pump_model(model, body) VALUES($model, $body)
                    ON CONFLICT(model) DO UPDATE SET body = excluded.body WHERE body IS NOT excluded.body
                    """;
                foreach (var model in models)
                {
                    changed += Run(command, transaction, ("$model", model.Model), ("$body", JsonSerializer.Serialize(model, FleetJson.Default.PumpModel)));
                }
            }

            using (var command = connection.CreateCommand())
            {
                command.CommandText = """
                    INSERT INTO truck(truck, yard, pump_model, body) VALUES($truck, $yard, $model, $body)
                    ON CONFLICT(truck) DO UPDATE SET yard = excluded.yard, pump_model = excluded.pump_model, body = excluded.body
                    WHERE body IS NOT excluded.body
                    """;
                foreach (var truck in trucks)
                {
                    changed += Run(
                        command,
                        transaction,
                        ("$truck", truck.Id),
                        ("$yard", truck.Yard),
                        ("$model", truck.PumpModel),
                        ("$body", JsonSerializer.Serialize(truck, FleetJson.Default.Truck)));
                }
            }

            using (var command = connection.CreateCommand())
            {
                command.CommandText = """
                    INSERT INTO service_record(key, truck, at_ms, kind, body) VALUES($key, $truck, $at, $kind, $body)
                    ON CONFLICT(key) DO UPDATE SET truck = excluded.truck, at_ms = excluded.at_ms, kind = excluded.kind, body = excluded.body
                    WHERE body IS NOT excluded.body
                    """;
                foreach (var record in records)
                {
                    changed += Run(
                        command,
                        transaction,
                        ("$key", KeyOf(record)),
                        ("$truck", record.Truck),
                        ("$at", record.At.ToUnixTimeMilliseconds()),
                        ("$kind", ServiceKindInfo.Of(record.Kind).Name),
                        ("$body", JsonSerializer.Serialize(record, FleetJson.Default.ServiceRecord)));
                }
            }

            transaction.Commit();
            return changed;
        }
        catch (SqliteException e)
        {
            throw SqliteDatabase.Explain(database.Path, e);
        }
    }

    private static int Run(SqliteCommand command, SqliteTransaction transaction, params ReadOnlySpan<(string Name, object Value)> values)
    {
        command.Transaction = transaction;
        command.Parameters.Clear();
        foreach (var (name, value) in values)
        {
            command.Parameters.AddWithValue(name, value);
        }

        return command.ExecuteNonQuery();
    }

    private List<T> Read<T>(string sql, string? truck, JsonTypeInfo<T> type)
    {
        try
        {
            using var connection = database.Connect();
            using var command = connection.CreateCommand();
#pragma warning disable CA2100 // Only the constant queries above come here.
            command.CommandText = sql;
#pragma warning restore CA2100
            command.Parameters.AddWithValue("$truck", (object?)truck ?? DBNull.Value);
            using var reader = command.ExecuteReader();
            var result = new List<T>();
            while (reader.Read())
            {
                result.Add(JsonSerializer.Deserialize(reader.GetString(0), type)
                    ?? throw new DatabaseException($"{database.Path} holds an empty entry; restore it from a backup."));
            }

            return result;
        }
        catch (SqliteException e)
        {
            throw SqliteDatabase.Explain(database.Path, e);
        }
        catch (JsonException e)
        {
            throw new DatabaseException($"{database.Path} holds an entry that cannot be read; restore it from a backup.", e);
        }
    }
}
