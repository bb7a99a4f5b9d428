using System.Collections.Immutable;
using Vanehour.Fleet.Register;

namespace Vanehour.Fleet.Import;

/// <summary>Imports the register's CSV files. The same file twice changes nothing; nothing of a file with a bad row is imported unless bad rows are skipped.</summary>
public static class RegisterImport
{
    /// <summary>
    /// Imports <paramref name="files"/> in the order pump models, trucks, service records, whatever order they are given in,
    /// so that a file may refer to what another one brings.
    /// </summary>
    /// <param name="register">Where to.</param>
    /// <param name="files">The files.</param>
    /// <param name="skipBadRows">Import a file's good rows though it has bad ones.</param>
    /// <param name="time">The clock; null: the system's. Service records cannot be of the future.</param>
    /// <param name="by">Who imports, for the history of service records; null where nobody is named.</param>
    /// <returns>What became of each file, in the order imported; files of no known kind first.</returns>
    public static IReadOnlyList<ImportedFile> Import(
        FleetRegister register, IReadOnlyList<RegisterFile> files, bool skipBadRows, TimeProvider? time = null, string? by = null)
    {
        ArgumentNullException.ThrowIfNull(register);
        ArgumentNullException.ThrowIfNull(files);
        var results = new List<ImportedFile>();
        var recognised = new List<(RegisterFileKind Kind, CsvTable Table)>();
        foreach (var file in files)
        {
            if (CsvTable.Read(file, out var problem) is not { } table)
            {
                results.Add(new ImportedFile(file.Name, null, 0, Imported: false, 0, [problem!]));
            }
            else if (Recognise(table) is not { } kind)
            {
                var reason = "The columns are those of no file that can be imported: a pump model file has rated_speed_rpm, "
                    + "a truck file pump_fitted, a service file kind and meter_h.";
                results.Add(new ImportedFile(file.Name, null, table.Rows.Count, Imported: false, 0, [new CsvProblem(file.Name, 1, null, reason)]));
            }
            else
            {
                recognised.Add((kind, table));
            }
        }

        foreach (var (kind, table) in recognised.OrderBy(r => r.Kind))
        {
            results.Add(Import(register, kind, table, skipBadRows, (time ?? TimeProvider.System).GetUtcNow(), by));
        }

        return results;
    }

    private static RegisterFileKind? Recognise(CsvTable table)
    {
        if (table.Columns.ContainsKey("rated_speed_rpm"))
        {
            return RegisterFileKind.PumpModels;
        }

        if (table.Columns.ContainsKey("pump_fitted"))
        {
            return RegisterFileKind.Trucks;
        }

        return table.Columns.ContainsKey("kind") && table.Columns.ContainsKey("meter_h") ? RegisterFileKind.ServiceRecords : null;
    }

    private static ImportedFile Import(FleetRegister register, RegisterFileKind kind, CsvTable table, bool skipBadRows, DateTimeOffset now, string? by)
    {
        var problems = new List<CsvProblem>();
        var header = HeaderProblems(kind, table);
        if (header.Count > 0)
        {
            return new ImportedFile(table.File, kind, table.Rows.Count, Imported: false, 0, [.. header]);
        }

        IReadOnlyCollection<PumpModel> models = [];
        IReadOnlyCollection<Truck> trucks = [];
        switch (kind)
        {
            case RegisterFileKind.PumpModels:
                models = PumpModelCsv.Read(table, problems);
                break;
            case RegisterFileKind.Trucks:
                trucks = TruckCsv.Read(table, register.PumpModels(), register.Trucks(), problems);
                break;
            default:
                return ServiceImport.Import(register, table, skipBadRows, now, by);
        }

        if (problems.Count > 0 && !skipBadRows)
        {
            return new ImportedFile(table.File, kind, table.Rows.Count, Imported: false, 0, [.. problems]);
        }

        var changed = register.Upsert(models, trucks, []);
        return new ImportedFile(table.File, kind, table.Rows.Count, Imported: true, changed, [.. problems]);
    }

    private static List<CsvProblem> HeaderProblems(RegisterFileKind kind, CsvTable table)
    {
        var (required, optional) = kind switch
        {
            RegisterFileKind.PumpModels => (PumpModelCsv.Required, PumpModelCsv.Optional),
            RegisterFileKind.Trucks => (TruckCsv.Required, TruckCsv.Optional),
            _ => (ServiceCsv.Required, ServiceCsv.Optional),
        };
        var problems = new List<CsvProblem>();
        foreach (var alternatives in required.Where(a => !a.Any(table.Columns.ContainsKey)))
        {
            problems.Add(new CsvProblem(table.File, 1, alternatives[0], $"The column {string.Join(" or ", alternatives)} is missing."));
        }

        var known = required.SelectMany(a => a).Concat(optional).ToImmutableHashSet(StringComparer.Ordinal);
        foreach (var column in table.Columns.OrderBy(c => c.Value).Select(c => c.Key).Where(c => !known.Contains(c)))
        {
            problems.Add(new CsvProblem(table.File, 1, column, $"The column '{column}' is not one of this file's; remove or rename it."));
        }

        return problems;
    }
}
