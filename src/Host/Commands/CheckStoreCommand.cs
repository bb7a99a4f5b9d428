using System.CommandLine;
using Vanehour.Host.Settings;
using Vanehour.Store.Influx;

namespace Vanehour.Host.Commands;

/// <summary>Tries with a real InfluxDB what Vanehour needs of it.</summary>
internal static class CheckStoreCommand
{
    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var bucket = new Option<string>("--bucket")
        {
            Description = $"The bucket to try in (the database on InfluxDB 1.8 and 3). A measurement {InfluxTrial.Measurement} is made in it and deleted at the end.",
            HelpName = "NAME",
            Required = true,
        };
        var url = new Option<string?>("--url") { Description = "The server; default as set in Store:Influx:Url.", HelpName = "URL" };
        var org = new Option<string?>("--org") { Description = "The organisation; default as set in Store:Influx:Org.", HelpName = "NAME" };
        var token = new Option<string?>("--token-file") { Description = "The file that holds the token; default as set in Store:Influx:TokenFile.", HelpName = "FILE" };
        var command = new Command(
            "check-store",
            "Try with an InfluxDB what Vanehour needs of it: write, read back, merge, refusals. One line for each.\n\nExample: vanehour check-store --url http://localhost:8086 --bucket scratch");
        command.Options.Add(bucket);
        command.Options.Add(url);
        command.Options.Add(org);
        command.Options.Add(token);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var options = SettingsFile.Bind<StoreSettings>(SettingsFile.Read(parsed.GetValue(globals.Data)!), StoreSettings.Section).Influx;
            options.Bucket = parsed.GetValue(bucket)!;
            options.Url = parsed.GetValue(url) ?? options.Url;
            options.Org = parsed.GetValue(org) ?? options.Org;
            options.TokenFile = parsed.GetValue(token) ?? options.TokenFile;
            if (options.Problems() is { Count: > 0 } problems)
            {
                throw new CommandFailedException(string.Join(" ", problems));
            }

            return await RunAsync(options, environment, cancellationToken) ? ExitCode.Done : ExitCode.Failed;
        });
        return command;
    }

    private static async Task<bool> RunAsync(InfluxOptions options, CliEnvironment environment, CancellationToken cancellationToken)
    {
        var scratch = Directory.CreateTempSubdirectory("vanehour-check-").FullName;
        try
        {
            var (passed, failed) = (0, 0);
            await foreach (var result in new InfluxTrial(options, environment.Time).RunAsync(scratch, cancellationToken))
            {
                var remark = result.Problem ?? result.Remark;
                environment.Out.WriteLine($"{(result.Problem is null ? "ok  " : "FAIL")}  {result.Name}{(remark is null ? string.Empty : ": " + remark)}");
                passed += result.Problem is null ? 1 : 0;
                failed += result.Problem is null ? 0 : 1;
            }

            environment.Out.WriteLine($"{passed} passed, {failed} failed");
            return failed == 0;
        }
        finally
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            Directory.Delete(scratch, recursive: true);
        }
    }
}
