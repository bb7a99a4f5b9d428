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
    private readonly TimeProvider time;

    /// <param name="database">fleet.db, opened with <see cref="FleetSchema.Current"/>.</param>
    /// <param name="time">The clock by which changes of service records are dated; null: the system's.</param>
    public FleetRegister(SqliteDatabase database, TimeProvider? time = null)
    {
        ArgumentNullException.ThrowIfNull(database);
        this.database = database;
        this.time = time ?? TimeProvider.System;
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
        return Transact(open =>
        {
            var changed = models.Sum(m => open.Put(m) ? 1 : 0) + trucks.Sum(t => open.Put(t) ? 1 : 0);
            return changed + records.Sum(r => open.Put(KeyOf(r), r, time.GetUtcNow(), by: null, why: null) ? 1 : 0);
        });
    }

    /// <summary>Does work that reads and writes in one transaction: nobody else writes meanwhile, and of work that throws nothing stays.</summary>
    internal T Transact<T>(Func<RegisterTransaction, T> work)
    {
        try
        {
            using var connection = database.Connect();
            using var transaction = connection.BeginTransaction(deferred: false);
            var result = work(new RegisterTransaction(connection, transaction, database.Path));
            transaction.Commit();
            return result;
        }
        catch (SqliteException e)
        {
            throw SqliteDatabase.Explain(database.Path, e);
        }
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
