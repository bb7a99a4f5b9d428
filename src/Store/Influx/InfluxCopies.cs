using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Runs;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Influx;

/// <summary>
/// Copies runs and findings to the measurements <c>run</c> and <c>finding</c>, for dashboards that people have already; Vanehour itself never reads them. What
/// is still to be copied is kept in samples.db, so that a copy which failed is made up for the next time.
/// </summary>
/// <remarks>
/// Runs that are derived again can begin at other instants than before, so the old copies are deleted first. A server that knows no DELETE (InfluxDB 3 Core)
/// keeps them beside the new ones.
/// </remarks>
public sealed class InfluxCopies
{
    private const string RunMeasurement = "run";
    private const string FindingMeasurement = "finding";

    private readonly InfluxConnection connection;
    private readonly SqliteDatabase database;

    /// <summary>Copies to a server.</summary>
    /// <param name="connection">The server; the caller disposes it.</param>
    /// <param name="database">samples.db, opened with <see cref="SamplesSchema"/>.</param>
    public InfluxCopies(InfluxConnection connection, SqliteDatabase database)
    {
        ArgumentNullException.ThrowIfNull(connection);
        ArgumentNullException.ThrowIfNull(database);
        (this.connection, this.database) = (connection, database);
    }

    /// <summary>Notes that a truck's runs are derived again from an instant on and must be copied.</summary>
    /// <exception cref="StoreUnavailableException">It cannot be noted now.</exception>
    public void Note(string truck, DateTimeOffset from) => database.Change(t => t.Execute(
        "INSERT INTO run_copy(truck, from_ms) VALUES($truck, $from) ON CONFLICT DO UPDATE SET from_ms=min(from_ms, $from)",
        ("$truck", truck),
        ("$from", from.ToUnixTimeMilliseconds())));

    /// <summary>Copies what was noted, truck by truck.</summary>
    /// <returns>How many runs were copied.</returns>
    /// <exception cref="InfluxException">The server did not take them; what is left stays noted.</exception>
    /// <exception cref="StoreUnavailableException">A database cannot be used now.</exception>
    public async Task<int> CopyRunsAsync(IRunStore runs, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(runs);
        var copied = 0;
        foreach (var (truck, fromMs) in Noted())
        {
            cancellationToken.ThrowIfCancellationRequested();
            var from = DateTimeOffset.FromUnixTimeMilliseconds(fromMs);
            var own = runs.Read(truck, from);
            await DeleteAsync(
                $"DELETE FROM {InfluxQl.Identifier(RunMeasurement)} WHERE \"truck\" = {InfluxQl.Text(InfluxName.ToTag(truck))} AND time >= {InfluxQl.Instant(fromMs)}",
                cancellationToken);
            foreach (var chunk in own.Chunk(connection.Options.BatchLines))
            {
                var lines = new LineProtocol();
                Array.ForEach(chunk, run => Add(lines, run));
                await connection.WriteAsync(lines.ToString(), cancellationToken);
            }

            copied += own.Count;
            await database.WriteAsync(
                () => database.Change(t => t.Execute("DELETE FROM run_copy WHERE truck=$truck AND from_ms=$from", ("$truck", truck), ("$from", fromMs))),
                CancellationToken.None);
        }

        return copied;
    }

    /// <summary>Copies findings as they stand; a copy made before of the same finding is replaced.</summary>
    /// <exception cref="InfluxException">The server did not take them.</exception>
    public async Task CopyFindingsAsync(IReadOnlyList<FindingCopy> findings, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(findings);
        foreach (var chunk in findings.Chunk(connection.Options.BatchLines))
        {
            var lines = new LineProtocol();
            foreach (var finding in chunk)
            {
                // Its urgency is part of what it is kept under, and may have changed.
                await DeleteAsync(
                    $"DELETE FROM {InfluxQl.Identifier(FindingMeasurement)} WHERE \"kind\" = {InfluxQl.Text(finding.Kind)} AND \"truck\" = {InfluxQl.Text(Truck(finding))} "
                    + $"AND time = {InfluxQl.Instant(finding.Since.ToUnixTimeMilliseconds())}",
                    cancellationToken);
                lines.Begin(FindingMeasurement)
                    .Tag("kind", finding.Kind)
                    .Tag("truck", Truck(finding))
                    .Tag("urgency", finding.Urgency)
                    .Field("id", finding.Id)
                    .Field("status", finding.Status)
                    .Field("text", finding.Text)
                    .Field("closed_ms", finding.Closed?.ToUnixTimeMilliseconds())
                    .End(finding.Since.ToUnixTimeMilliseconds());
            }

            await connection.WriteAsync(lines.ToString(), cancellationToken);
        }
    }

    private static string Truck(FindingCopy finding) => finding.Truck is { } truck ? InfluxName.ToTag(truck) : string.Empty;

    private static void Add(LineProtocol lines, Run run) => lines.Begin(RunMeasurement)
        .Tag("truck", InfluxName.ToTag(run.Truck))
        .Field("hours", run.HoursH)
        .Field("end_ms", run.End.ToUnixTimeMilliseconds())
        .Field("meter_start", run.MeterStartH)
        .Field("meter_end", run.MeterEndH)
        .Field("vacuum_mean", run.VacuumMeanKPa)
        .Field("vacuum_max", run.VacuumMaxKPa)
        .Field("minutes_above_vacuum_limit", run.MinutesAboveVacuumLimit)
        .Field("pressure_max", run.PressureMaxKPa)
        .Field("pump_temp_mean", run.PumpTempMeanC)
        .Field("pump_temp_max", run.PumpTempMaxC)
        .Field("ambient_mean", run.AmbientMeanC)
        .Field("temp_rise", run.TempRiseK)
        .Field("speed_mean", run.SpeedMeanRpm)
        .Field("speed_outside_share", run.SpeedOutsideShare)
        .Field("oil_used", run.OilUsedL)
        .Field("oil_rate", run.OilRateLPerH)
        .Field("baro", run.BaroKPa)
        .Field("coverage", run.Quality.Coverage)
        .End(run.Start.ToUnixTimeMilliseconds());

    private List<(string Truck, long FromMs)> Noted() => database.Read(connection =>
    {
        using var command = connection.Command("SELECT truck, from_ms FROM run_copy ORDER BY truck");
        using var reader = command.ExecuteReader();
        var noted = new List<(string, long)>();
        while (reader.Read())
        {
            noted.Add((reader.GetString(0), reader.GetInt64(1)));
        }

        return noted;
    });

    private async Task DeleteAsync(string statement, CancellationToken cancellationToken)
    {
        try
        {
            await connection.ExecuteAsync(statement, cancellationToken);
        }
        catch (InfluxException e) when (e.Failure == InfluxFailure.BadData || e.Status == 405)
        {
            // This server deletes nothing: the old copies stay.
        }
    }
}
