using Vanehour.Fleet.Register;
using Vanehour.Fleet.Servicing;

namespace Vanehour.Fleet.Import;

/// <summary>Imports a service file: reads, checks against the trucks' histories and writes in one transaction.</summary>
internal static class ServiceImport
{
    public static ImportedFile Import(FleetRegister register, CsvTable table, bool skipBadRows, DateTimeOffset now, string? by) => register.Transact(open =>
    {
        var problems = new List<CsvProblem>();
        var trucks = open.Trucks();
        var rows = ServiceCsv.Read(table, open.PumpModels(), trucks, problems);
        var held = open.ServiceRecords();
        var stored = held.ToDictionary(h => h.Token, h => h.Record, StringComparer.Ordinal);
        var changed = WithoutContradictions([.. rows.Where(r => stored.GetValueOrDefault(r.Key) != r.Record)], held, new HistoryCheck(trucks, now, isFile: true), table.File, problems);
        problems.Sort((a, b) => a.Line.CompareTo(b.Line));
        if (problems.Count > 0 && !skipBadRows)
        {
            return new ImportedFile(table.File, RegisterFileKind.ServiceRecords, table.Rows.Count, Imported: false, 0, [.. problems]);
        }

        var given = changed.Where(r => !stored.ContainsKey(r.Key)).Select(r => r.Key).ToHashSet(StringComparer.Ordinal);
        var left = given.Count == 0 ? [] : open.Changes(null).Select(c => c.Before).OfType<ServiceRecord>().Select(FleetRegister.KeyOf).ToHashSet(StringComparer.Ordinal);
        foreach (var row in changed)
        {
            open.Put(row.Key, row.Record, now, by, table.File);
        }

        return new ImportedFile(table.File, RegisterFileKind.ServiceRecords, table.Rows.Count, Imported: true, changed.Count, [.. problems])
        {
            BroughtBack = given.Count(left.Contains),
        };
    });

    /// <summary>The rows that fit; of those that do not fit together, the one with the most contradictions goes first, so that one slip is one problem.</summary>
    private static List<ServiceRow> WithoutContradictions(
        List<ServiceRow> rows, IReadOnlyList<HeldRecord> held, HistoryCheck check, string file, List<CsvProblem> problems)
    {
        while (rows.Count > 0)
        {
            var replaced = rows.Select(r => r.Key).ToHashSet(StringComparer.Ordinal);
            HeldRecord[] after = [.. held.Where(h => !replaced.Contains(h.Token)), .. rows.Select(r => new HeldRecord(r.Key, r.Record))];
            var contradictions = check.Added(held, after);
            if (contradictions.Count == 0)
            {
                break;
            }

            // Where a row only moves what others stand for (a replaced meter that is no more), any row of that truck is to blame.
            var counts = contradictions.SelectMany(c => c.Tokens).CountBy(t => t, StringComparer.Ordinal).ToDictionary(StringComparer.Ordinal);
            var (trucks, first) = (contradictions.Select(c => c.Truck).ToHashSet(StringComparer.Ordinal), contradictions[0]);
            var worst = rows
                .OrderByDescending(r => counts.GetValueOrDefault(r.Key))
                .ThenByDescending(r => trucks.Contains(r.Record.Truck))
                .ThenByDescending(r => r.Line)
                .First();
            var why = contradictions.FirstOrDefault(c => c.Tokens.Contains(worst.Key)) ?? first;
            problems.Add(new CsvProblem(file, worst.Line, why.Column, why.Sentence));
            rows.Remove(worst);
        }

        return rows;
    }
}
