using System.Globalization;
using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Sqlite;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.Results;
using Vanehour.Store.Results;
using Vanehour.Store.Sqlite;

namespace Vanehour.Bench;

/// <summary>
/// A big fleet for the Board, made of a small one that was analysed, over and over under other names: runs, records, forecasts, series and findings are as large and as
/// many a truck as real ones, though alike. A plan is made of it.
/// </summary>
internal static class BoardFleet
{
    private const int Yards = 10;

    public static async Task MakeAsync(string source, string target, int count, TextWriter output)
    {
        var from = SqliteDatabase.Open(source, FleetSchema.Current);
        var to = SqliteDatabase.Open(target, FleetSchema.Current);
        var (register, runs, results) = (new FleetRegister(from), new SqliteRunStore(from), new SqliteResultStore(from));
        var asOf = results.LatestAsOf() ?? throw new InvalidOperationException($"Nothing in {source} is analysed.");
        var reader = new AnalysisReader(results, new SqliteFindingStore(from));
        var old = register.Trucks();
        var trucks = Enumerable.Range(0, count).Select(i => (Old: old[i % old.Count], New: string.Create(CultureInfo.InvariantCulture, $"V{i + 1:D4}"), Yard: $"Yard {i / old.Count % Yards:D2}")).ToList();

        var bigRegister = new FleetRegister(to);
        var (bigRuns, bigResults) = (new SqliteRunStore(to), new SqliteResultStore(to));
        var renamed = trucks.Select(t => t.Old with { Id = t.New, Yard = t.Yard, PumpSerial = $"{t.New}-{t.Old.PumpSerial}" }).ToList();
        var records = trucks.SelectMany(t => register.ServiceRecords(t.Old.Id).Select(r => r with { Truck = t.New, RecordId = r.RecordId is { } id ? $"{t.New}-{id}" : null, PumpSerial = r.PumpSerial is { } serial ? $"{t.New}-{serial}" : null })).ToList();
        bigRegister.Upsert(register.PumpModels(), renamed, records);

        var wear = reader.WearOf(asOf).ToDictionary(w => w.Truck, StringComparer.Ordinal);
        var documents = new List<ResultDocument>(results.Read(asOf, ResultKind.Header).Concat(results.Read(asOf, ResultKind.Model)).Concat(results.Read(asOf, ResultKind.Choice)));
        var bigWear = new List<Models.VaneWear.WearForecast>();
        foreach (var (was, id, _) in trucks)
        {
            bigRuns.Replace(id, DateTimeOffset.UnixEpoch, [.. runs.Read(was.Id).Select(r => r with { Truck = id })], asOf);
            if (wear.GetValueOrDefault(was.Id) is { } forecast)
            {
                bigWear.Add(forecast with { Truck = id, PumpSerial = $"{id}-{forecast.PumpSerial}" });
                documents.Add(new ResultDocument(ResultKind.Wear, id, JsonSerializer.Serialize(bigWear[^1], ModelsJson.Default.WearForecast)));
            }

            documents.AddRange(reader.SeriesOf(asOf, was.Id).Select(s => new ResultDocument(ResultKind.Series, $"{id}/{s.Indicator}", JsonSerializer.Serialize(s with { Truck = id }, ModelsJson.Default.IndicatorSeries))));
        }

        bigResults.Save(asOf, documents, 3);
        var all = new FindingBook(new SqliteFindingStore(from)).All().ToLookup(f => f.Truck, StringComparer.Ordinal);
        var findings = trucks.SelectMany(t => all[t.Old.Id].Select(f => f with { Id = $"{f.Id}-{t.New}", Truck = t.New })).ToList();
        new FindingBook(new SqliteFindingStore(to)).Save(findings);

        var plan = new Planner(new PlanOptions { HorizonWeeks = 26, SlotsPerWeek = Math.Max(1, count / (Yards * 26)) }).Make(new PlanInput
        {
            AsOf = asOf,
            MadeAt = asOf,
            Wear = [.. bigWear],
            Findings = [.. findings.Where(f => f.Status != FindingStatus.Closed)],
            Trucks = renamed,
            FittedAt = renamed.ToDictionary(t => t.Id, t => t.PumpFitted, StringComparer.Ordinal),
            Marks = [],
            Previous = null,
        });
        new PlanBook(new SqlitePlanStore(to)).Save(plan);

        using var samples = new SqliteTelemetryStore(SqliteDatabase.Open(target, SamplesSchema.Current));
        var values = SignalValues.Empty;
        values.Set(Signal.Vacuum, 0);
        await samples.WriteAsync([.. trucks.Select((t, i) => new Sample(t.New, asOf.AddMinutes(-i).ToUnixTimeMilliseconds(), values))], CancellationToken.None);
        File.Copy(Path.Combine(source, "demo.json"), Path.Combine(target, "demo.json"), overwrite: true);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count} trucks, {records.Count} service records, {findings.Count} findings ({findings.Count(f => f.Status != FindingStatus.Closed)} open), {plan.Jobs.Length} jobs in {target}"));
    }
}
