using System.CommandLine;
using System.Globalization;
using Vanehour.Fleet.Import;
using Vanehour.Host.Composition;
using Vanehour.Host.Moving;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Imports the register's CSV files, and sample files after them.</summary>
internal static class ImportCommand
{
    private const long LargestFileBytes = 64L * 1024 * 1024;
    private const int ListedTrucks = 20;

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var files = new Argument<string[]>("FILE") { Description = "CSV files of the register, or of samples (any length).", Arity = ArgumentArity.OneOrMore };
        var skip = new Option<bool>("--skip-bad-rows") { Description = "Import the good rows of a file that has bad ones, and list those." };
        var command = new Command(
            "import",
            "Import pump models, trucks and service records from CSV files, and samples from a gateway's export or from 'vanehour export samples'.\n\n"
            + "Example: vanehour import pump-models.csv trucks.csv service.csv\nExample: vanehour import samples.csv");
        var by = new Option<string?>("--by") { Description = "Who says so, for the history of service records.", HelpName = "NAME" };
        command.Arguments.Add(files);
        command.Options.Add(skip);
        command.Options.Add(by);
        command.SetAction((parsed, cancellationToken) => RunAsync(
            parsed.GetValue(globals.Data)!, parsed.GetValue(files)!, parsed.GetValue(skip), RecordFields.Text(parsed.GetValue(by)), environment, cancellationToken));
        return command;
    }

    private static async Task<int> RunAsync(
        string folder, string[] paths, bool skipBadRows, string? by, CliEnvironment environment, CancellationToken cancellationToken)
    {
        FolderMarks.RefuseDrill(folder, "import");
        if (Array.Find(paths, p => !File.Exists(p)) is { } missing)
        {
            throw new CommandFailedException($"There is no file {missing}.");
        }

        var isSamples = paths.ToLookup(SampleFileImport.Recognises);
        var register = isSamples[false].Select(Read).ToList();
        using var data = DataFolder.Open(folder);
        var results = RegisterImport.Import(data.Register, register, skipBadRows, environment.Time, by);
        foreach (var file in results)
        {
            Say(file, environment);
        }

        var allImported = results.All(r => r.Imported);
        var import = new SampleFileImport(data.Samples, environment);
        var registered = data.Register.Trucks().Select(t => t.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var path in isSamples[true])
        {
            var result = await import.ImportAsync(path, skipBadRows, cancellationToken);
            Say(Path.GetFileName(path), result, registered, environment);
            allImported &= result.Imported;
        }

        return allImported ? ExitCode.Done : ExitCode.Failed;
    }

    private static void Say(ImportedFile file, CliEnvironment environment)
    {
        foreach (var problem in file.Problems)
        {
            environment.Error.WriteLine(problem.ToString());
        }

        if (!file.Imported)
        {
            environment.Error.WriteLine($"{file.Name}: nothing imported.");
            return;
        }

        var what = file.Kind switch
        {
            RegisterFileKind.PumpModels => "pump model",
            RegisterFileKind.Trucks => "truck",
            _ => "service record",
        };
        var skipped = file.Problems.Select(p => p.Line).Distinct().Count();
        var tail = skipped > 0 ? $", {Count.Of(skipped, "bad row")} skipped" : string.Empty;
        environment.Out.WriteLine($"{file.Name}: {Count.Of(file.Rows, what)} read, {file.Changed} added or changed{tail}.");
        if (file.BroughtBack > 0)
        {
            environment.Out.WriteLine(
                $"{file.Name}: {Count.Of(file.BroughtBack, "record")} that had been deleted, or corrected to another date, kind or meter, are back as in the file; see 'vanehour record list' and 'record history'.");
        }
    }

    private static void Say(string name, SampleFileResult result, HashSet<string> registered, CliEnvironment environment)
    {
        if (!result.Imported)
        {
            environment.Error.WriteLine($"{name}: nothing imported.");
            return;
        }

        var changes = result.Added is null ? string.Empty : string.Create(CultureInfo.InvariantCulture, $", {result.Added} added, {result.Changed} changed");
        var skipped = result.BadRows > 0 ? string.Create(CultureInfo.InvariantCulture, $", {result.BadRows} bad rows skipped") : string.Empty;
        var empty = result.EmptyRows > 0 ? string.Create(CultureInfo.InvariantCulture, $", {result.EmptyRows} rows without a value") : string.Empty;
        environment.Out.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{name}: {result.Rows} rows read, {result.Samples} samples stored{changes}{skipped}{empty}."));
        var unknown = result.Trucks.Where(t => !registered.Contains(t)).Order(StringComparer.Ordinal).ToList();
        if (unknown.Count > 0)
        {
            var more = unknown.Count > ListedTrucks ? string.Create(CultureInfo.InvariantCulture, $" and {unknown.Count - ListedTrucks} more") : string.Empty;
            environment.Error.WriteLine(
                $"{name}: not registered: {string.Join(", ", unknown.Take(ListedTrucks))}{more}. Their samples are kept and come to count when the truck is imported.");
        }
    }

    private static RegisterFile Read(string path)
    {
        var info = new FileInfo(path);
        if (info.Length > LargestFileBytes)
        {
            throw new CommandFailedException($"{path} is larger than 64 MiB, too large for a register file; a sample file has the columns truck and time.");
        }

        return new RegisterFile(info.Name, File.ReadAllBytes(path));
    }
}
