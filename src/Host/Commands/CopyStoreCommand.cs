using System.CommandLine;
using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Moving;
using Vanehour.Host.Output;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Commands;

/// <summary>Copies all samples from one store to another and verifies the copy.</summary>
internal static class CopyStoreCommand
{
    private static readonly Column<CopiedTruck>[] Columns =
    [
        new("truck", "Truck", t => t.Truck),
        new("from_samples", "Samples at source", t => t.FromSamples, "0"),
        new("to_samples", "at target", t => t.ToSamples, "0"),
        new("from_checksum", "Checksum at source", t => t.FromChecksum),
        new("to_checksum", "Checksum at target", t => t.ToChecksum),
        new("same", "Same", t => t.Same),
    ];

    // A person compares the beginning of a checksum.
    private static readonly Column<CopiedTruck>[] TableColumns =
        [.. Columns.Take(3), new("checksum", "Checksum", t => t.Same ? t.FromChecksum[..12] : $"{t.FromChecksum[..12]} / {t.ToChecksum[..12]}"), Columns[^1]];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var from = Kind("--from", "The kind of store to copy from.");
        var to = Kind("--to", "The kind of store to copy to.");
        var fromData = Folder("--from-data", "The data folder of the source (default: --data).");
        var toData = Folder("--to-data", "The data folder of the target (default: --data).");
        var listing = new ListingOptions();
        var command = new Command(
            "copy-store",
            "Copy every sample from one store to another, truck by truck, and compare both ends. A copy that was stopped goes on where it was.\n"
            + "Only samples: register, runs and results stay in the data folder; see 'vanehour backup'.\n\n"
            + "Example: vanehour copy-store --from sqlite --from-data old --to sqlite --to-data new");
        command.Options.Add(from);
        command.Options.Add(to);
        command.Options.Add(fromData);
        command.Options.Add(toData);
        listing.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var data = parsed.GetValue(globals.Data)!;
            var sourceFactory = StoreEnds.Find(parsed.GetValue(from)!);
            FolderMarks.RefuseDrill(parsed.GetValue(toData) ?? data, "copy-store");
            var targetFactory = StoreEnds.Find(parsed.GetValue(to)!);
            using var source = await sourceFactory.OpenAsync(new StoreEndRequest(parsed.GetValue(fromData) ?? data, IsTarget: false), cancellationToken);
            using var target = await targetFactory.OpenAsync(new StoreEndRequest(parsed.GetValue(toData) ?? data, IsTarget: true), cancellationToken);
            if (source.Identity == target.Identity)
            {
                throw new CommandFailedException($"Source and target are the same store ({source.Identity}); name two with --from-data and --to-data.");
            }

            await CopyAsync(source, target, listing.Format(parsed), environment, cancellationToken);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task CopyAsync(
        StoreEnd source, StoreEnd target, ListingFormat format, CliEnvironment environment, CancellationToken cancellationToken)
    {
        var file = CopyProgressFile.Open(target.ProgressFolder, source.Identity, target.Identity);
        var copy = new StoreCopy(source.Samples, target.Samples, file);
        var trucks = await copy.TrucksAsync(cancellationToken);
        var copied = await PassAsync(copy, trucks, environment, cancellationToken);
        var differing = Differing(copied);
        if (differing.Count > 0)
        {
            // What arrived at the source while it was copied, or since a copy that was stopped, is taken over by copying those trucks again.
            var again = await PassAsync(copy, [.. trucks.Where(t => differing.Contains(t.Truck))], environment, cancellationToken);
            copied = [.. copied.Where(c => c.Same).Concat(again).OrderBy(c => c.Truck, StringComparer.Ordinal)];
            differing = Differing(copied);
        }

        Listing.Write(
            environment.Out,
            format,
            copied,
            format == ListingFormat.Table ? TableColumns : Columns,
            (JsonTypeInfo<IReadOnlyList<CopiedTruck>>)HostJson.Default.IReadOnlyListCopiedTruck,
            "The source holds no samples.");
        if (differing.Count > 0)
        {
            throw new CommandFailedException(string.Create(
                CultureInfo.InvariantCulture,
                $"{differing.Count} of {copied.Count} trucks differ between source and target ({string.Join(", ", differing.Order(StringComparer.Ordinal).Take(5))}): stop what writes to either, see that the target held nothing else of these trucks, and run the command again."));
        }

        file.Delete();
        if (target.Done is { } done)
        {
            await done(cancellationToken);
        }
    }

    private static async Task<IReadOnlyList<CopiedTruck>> PassAsync(
        StoreCopy copy, IReadOnlyList<TruckExtent> trucks, CliEnvironment environment, CancellationToken cancellationToken)
    {
        var progress = new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal);
        var written = await progress.StepAsync("Copying", share => copy.CopyAsync(trucks, share, cancellationToken));
        environment.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{written} samples copied."));
        return await progress.StepAsync("Comparing", share => copy.VerifyAsync(trucks, share, cancellationToken));
    }

    private static HashSet<string> Differing(IEnumerable<CopiedTruck> copied) =>
        copied.Where(c => !c.Same).Select(c => c.Truck).ToHashSet(StringComparer.Ordinal);

    private static Option<string> Kind(string name, string description)
    {
        var option = new Option<string>(name) { Description = description, Required = true, HelpName = "sqlite|influx" };
        option.AcceptOnlyFromAmong("sqlite", "influx");
        return option;
    }

    private static Option<string?> Folder(string name, string description) => new(name) { Description = description, HelpName = "DIR" };
}
