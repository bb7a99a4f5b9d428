using System.CommandLine;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Planning;
using Vanehour.Reports;
using Vanehour.Reports.Calendars;
using Vanehour.Reports.Planning;
using Vanehour.Simulator;

namespace Vanehour.Host.Commands;

/// <summary>Lists the rebuild plan, explains a truck's week, or writes the Monday digest.</summary>
internal static class PlanCommand
{
    private static readonly TimeSpan AlmostAWeek = TimeSpan.FromDays(6.5);

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var filter = new TruckFilter();
        var explain = new Option<string?>("--explain") { Description = "Explain one truck: chances and cost by week, why its week.", HelpName = "TRUCK" };
        var digest = new Option<bool>("--digest") { Description = "What a planner reads on a Monday: changes, this week's jobs, parts to order, findings that wait, trucks not heard." };
        var picture = new Option<string?>("--out") { Description = "Draw the plan, or with --digest the digest, into this PNG file.", HelpName = "FILE" };
        var calendar = new Option<string?>("--calendar") { Description = "Write the jobs as an iCalendar file; importing it again moves events and makes no second ones.", HelpName = "FILE" };
        var policies = new Option<bool>("--compare-policies") { Description = "What running to failure, replacement by age and what was done so far cost a year, by the fleet's own lives." };
        var simulated = new Option<bool>("--simulated") { Description = "With --compare-policies: take an invented fleet through each policy, this plan included; takes minutes." };
        var trucks = new Option<int>("--trucks") { Description = "Trucks of the invented fleet.", DefaultValueFactory = _ => 24, HelpName = "N" };
        var months = new Option<int>("--months") { Description = "Its months.", DefaultValueFactory = _ => 24, HelpName = "N" };
        var seed = new Option<long>("--seed") { Description = "Its seed.", DefaultValueFactory = _ => 1, HelpName = "N" };
        var command = new Command("plan", "List which pump is rebuilt in which week, at least expected cost inside the workshop's slots, kits, spares, pins and blocks.\n\nExample: vanehour plan --explain T07");
        listing.AddTo(command);
        filter.AddTo(command);
        command.Options.Add(explain);
        command.Options.Add(digest);
        command.Options.Add(picture);
        command.Options.Add(calendar);
        command.Options.Add(policies);
        command.Options.Add(simulated);
        command.Options.Add(trucks);
        command.Options.Add(months);
        command.Options.Add(seed);
        command.Subcommands.Add(PlanMarkCommands.Pin(globals, environment));
        command.Subcommands.Add(PlanMarkCommands.Unpin(globals, environment));
        command.Subcommands.Add(PlanMarkCommands.Block(globals, environment));
        command.Subcommands.Add(PlanMarkCommands.Unblock(globals, environment));
        command.Subcommands.Add(PlanMarkCommands.List(globals, environment));
        command.Validators.Add(result =>
        {
            if ((result.GetValue(digest) ? 1 : 0) + (result.GetValue(explain) is null ? 0 : 1) + (result.GetValue(policies) ? 1 : 0) > 1)
            {
                result.AddError("Choose one of --digest, --explain and --compare-policies.");
            }

            if (result.GetValue(simulated) && !result.GetValue(policies))
            {
                result.AddError("--simulated goes with --compare-policies.");
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            var format = listing.Format(parsed);
            if (parsed.GetValue(simulated))
            {
                await PolicyComparison.SimulatedAsync(
                    environment.Out,
                    format,
                    SettingsFile.Read(parsed.GetValue(globals.Data)!),
                    Fleet(parsed.GetValue(trucks), parsed.GetValue(months), parsed.GetValue(seed)),
                    new ConsoleProgress(environment.Error, environment.Time, environment.ErrorIsTerminal),
                    cancellationToken);
                return ExitCode.Done;
            }

            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            if (parsed.GetValue(policies))
            {
                PolicyComparison.Own(environment.Out, format, data, environment.Time, cancellationToken);
                return ExitCode.Done;
            }

            var job = new PlanJob(data, SettingsFile.Read(data.Folder), environment.Time);
            var shown = filter.Trucks(parsed, data);
            if (parsed.GetValue(explain) is { } explained)
            {
                data.RequireTruck(explained);
            }

            var (input, plan) = job.Current(data.RequireAnalysis());
            if (parsed.GetValue(explain) is { } truck)
            {
                Explain(environment.Out, format, job, input, plan, truck);
            }
            else if (parsed.GetValue(digest))
            {
                await DigestAsync(environment.Out, format, data, job, input, plan, cancellationToken);
            }
            else
            {
                List(environment.Out, format, plan, shown, isWhole: shown.Count == input.Trucks.Count);
            }

            if (parsed.GetValue(picture) is { } file)
            {
                var options = FolderMarks.Reports(data.Folder);
                await WholeFile.WriteAsync(file, await PictureAsync(parsed.GetValue(digest), data, job, input, plan, options, cancellationToken), cancellationToken);
                await environment.Error.WriteLineAsync($"Drawn into {Path.GetFullPath(file)}.");
            }

            if (parsed.GetValue(calendar) is { } calendarFile)
            {
                await WholeFile.WriteAsync(calendarFile, Encoding.UTF8.GetBytes(RebuildCalendar.Of(plan)), cancellationToken);
                await environment.Error.WriteLineAsync($"{Count.Of(plan.Jobs.Length, "job")} written to {Path.GetFullPath(calendarFile)}.");
            }

            if (format == ListingFormat.Table)
            {
                foreach (var sentence in job.Unknown())
                {
                    environment.Out.WriteLine(sentence);
                }
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static SimulationOptions Fleet(int trucks, int months, long seed)
    {
        var options = new SimulationOptions { Trucks = trucks, Months = months, Seed = seed, HistoryYears = 8 };
        try
        {
            options.Validate();
            return options;
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw new CommandFailedException($"--{e.ParamName?.ToLowerInvariant()}: {e.Message.Split('(')[0].Trim()}", e);
        }
    }

    private static void List(TextWriter output, ListingFormat format, RebuildPlan plan, IReadOnlySet<string> trucks, bool isWhole)
    {
        IReadOnlyList<PlannedJob> jobs = [.. plan.Jobs.Where(j => trucks.Contains(j.Truck))];
        if (format == ListingFormat.Table && isWhole)
        {
            PlanPage.Before(output, plan);
        }

        Listing.Write(output, format, jobs, PlanPage.Columns, (JsonTypeInfo<IReadOnlyList<PlannedJob>>)HostJson.Default.IReadOnlyListPlannedJob, $"No rebuild is due in the {plan.HorizonWeeks} weeks from {plan.FirstWeek}.");
        if (format == ListingFormat.Table && isWhole)
        {
            PlanPage.After(output, plan);
        }
    }

    private static void Explain(TextWriter output, ListingFormat format, PlanJob job, PlanInput input, RebuildPlan plan, string truck)
    {
        if (job.Planner.Explain(input, plan, truck) is not { } why)
        {
            throw new CommandFailedException(plan.Remarks.FirstOrDefault(r => r.StartsWith(truck + " is not planned", StringComparison.Ordinal)) ?? $"{truck} is not planned: it is out of service or has no pump on.");
        }

        if (format == ListingFormat.Table)
        {
            PlanPage.Explain(output, why);
        }
        else
        {
            Listing.Write(output, format, why.Weeks, PlanPage.WeekColumns(why), (JsonTypeInfo<IReadOnlyList<WeekOption>>)HostJson.Default.IReadOnlyListWeekOption, string.Empty);
        }
    }

    private static async Task<byte[]> PictureAsync(bool ofDigest, DataFolder data, PlanJob job, PlanInput input, RebuildPlan plan, ReportOptions options, CancellationToken cancellationToken) =>
        ofDigest ? DigestReport.Render(await DigestOf(data, job, input, plan, cancellationToken), options) : PlanReport.Render(job.Drawn(plan), options);

    private static async Task DigestAsync(TextWriter output, ListingFormat format, DataFolder data, PlanJob job, PlanInput input, RebuildPlan plan, CancellationToken cancellationToken)
    {
        var digest = await DigestOf(data, job, input, plan, cancellationToken);
        switch (format)
        {
            case ListingFormat.Json:
                output.WriteLine(JsonSerializer.Serialize(digest, HostJson.Default.MondayDigest));
                break;
            case ListingFormat.Csv:
                throw new CommandFailedException("The digest is no table; take --json, or 'vanehour plan --csv' for the jobs.");
            default:
                DigestPage.Write(output, digest);
                break;
        }
    }

    internal static async Task<MondayDigest> DigestOf(DataFolder data, PlanJob job, PlanInput input, RebuildPlan plan, CancellationToken cancellationToken)
    {
        var heard = (await data.Samples.TrucksAsync(cancellationToken)).ToDictionary(t => t.Truck, t => DateTimeOffset.FromUnixTimeMilliseconds(t.LastMs), StringComparer.Ordinal);
        return MondayDigest.Of(plan, job.Book.LatestAsOf(plan.AsOf - AlmostAWeek), input, heard);
    }
}
