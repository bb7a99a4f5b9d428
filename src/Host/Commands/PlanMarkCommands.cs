using System.CommandLine;
using System.Globalization;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Models.Planning;

namespace Vanehour.Host.Commands;

/// <summary>What people say about the plan: plan pin, unpin, block, unblock, marks.</summary>
internal static class PlanMarkCommands
{
    private static readonly Column<PlanMark>[] Columns =
    [
        new("id", "Id", m => m.Id),
        new("kind", "Kind", m => m.Kind),
        new("from", "From", m => m.From.ToString()),
        new("to", "To", m => m.To.ToString()),
        new("truck", "Truck", m => m.Truck),
        new("yard", "Yard", m => m.Yard),
        new("by", "By", m => m.By),
        new("at", "At", m => m.At),
        new("note", "Note", m => m.Note),
    ];

    public static Command Pin(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = Truck();
        var week = Week("WEEK", "The week, as 2027-W05, or a day in it, as 2027-02-03.");
        var (by, note) = (By(), Note());
        var command = new Command("pin", "Put a truck's rebuild into a week and keep it there; an earlier pin of the truck is replaced.\n\nExample: vanehour plan pin T07 2027-W05 --by Ann");
        command.Arguments.Add(truck);
        command.Arguments.Add(week);
        command.Options.Add(by);
        command.Options.Add(note);
        command.SetAction(parsed => WithPlan(parsed, globals, environment, (data, job) =>
        {
            var id = parsed.GetValue(truck)!;
            data.RequireTruck(id);
            var at = ParseWeek(parsed.GetValue(week)!);
            var analysis = data.RequireAnalysis();
            var mark = new PlanMark { Kind = PlanMarkKind.Pin, Truck = id, From = at, To = at, By = Text(parsed.GetValue(by)), Note = Text(parsed.GetValue(note)), At = environment.Time.GetUtcNow() };

            // Tried before it is kept: a pin that cannot be kept is refused, not set aside.
            var before = job.Book.Latest();
            var input = job.Input(analysis, before);
            var plan = job.Planner.Make(input with { Marks = [.. input.Marks.Where(m => m.Kind != PlanMarkKind.Pin || m.Truck != id), mark] });
            if (at < plan.FirstWeek)
            {
                throw new CommandFailedException($"{at} is over; the first week that can be planned is {plan.FirstWeek}.");
            }

            if (plan.Remarks.FirstOrDefault(r => r.StartsWith($"The pin of {id} to ", StringComparison.Ordinal) || r.StartsWith($"{id} is pinned to {at}, but", StringComparison.Ordinal)) is { } why)
            {
                throw new CommandFailedException($"{id} cannot be pinned to {at}: {why[(why.IndexOf(':', StringComparison.Ordinal) + 1)..].TrimStart()}");
            }

            job.Book.Add(mark);
            job.Book.Save(plan);
            environment.Out.WriteLine($"Pinned {id} to {at}.");
            Said(environment.Out, before, plan);
        }));
        return command;
    }

    public static Command Unpin(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = Truck();
        var command = new Command("unpin", "Take a truck's pin off.\n\nExample: vanehour plan unpin T07");
        command.Arguments.Add(truck);
        command.SetAction(parsed => WithPlan(parsed, globals, environment, (data, job) =>
        {
            var id = parsed.GetValue(truck)!;
            if (job.Book.Marks().FirstOrDefault(m => m.Kind == PlanMarkKind.Pin && m.Truck == id) is not { } pin)
            {
                throw new CommandFailedException($"{id} is not pinned; see 'vanehour plan marks'.");
            }

            job.Book.Remove(pin.Id);
            var before = job.Book.Latest();
            var plan = job.Renew(data.RequireAnalysis());
            environment.Out.WriteLine($"Took the pin of {id} to {pin.From} off.");
            Said(environment.Out, before, plan);
        }));
        return command;
    }

    public static Command Block(GlobalOptions globals, CliEnvironment environment)
    {
        var from = Week("WEEK", "The first week, as 2027-W05, or a day in it.");
        var to = new Argument<string?>("LAST") { Description = "The last week; left out: the first alone.", Arity = ArgumentArity.ZeroOrOne };
        var yard = new Option<string?>("--yard") { Description = "Only this yard.", HelpName = "YARD" };
        var truck = new Option<string?>("--truck") { Description = "Only this truck.", HelpName = "TRUCK" };
        var (by, note) = (By(), Note());
        var command = new Command("block", "Keep weeks free of rebuilds: of a truck, of a yard, or of all.\n\nExample: vanehour plan block 2026-W52 2026-W53 --yard North --note holidays");
        command.Arguments.Add(from);
        command.Arguments.Add(to);
        command.Options.Add(yard);
        command.Options.Add(truck);
        command.Options.Add(by);
        command.Options.Add(note);
        command.Validators.Add(result =>
        {
            if (result.GetValue(yard) is not null && result.GetValue(truck) is not null)
            {
                result.AddError("Choose one of --yard and --truck.");
            }
        });
        command.SetAction(parsed => WithPlan(parsed, globals, environment, (data, job) =>
        {
            var first = ParseWeek(parsed.GetValue(from)!);
            var last = parsed.GetValue(to) is { } text ? ParseWeek(text) : first;
            if (last < first)
            {
                throw new CommandFailedException($"{last} is before {first}; give the first week first.");
            }

            TruckFilter.Require(parsed.GetValue(yard), "is in a yard", data.Register.Trucks().Select(t => t.Yard));
            if (parsed.GetValue(truck) is { } id)
            {
                data.RequireTruck(id);
            }

            var before = job.Book.Latest();
            var mark = job.Book.Add(new PlanMark
            {
                Kind = PlanMarkKind.Block,
                From = first,
                To = last,
                Yard = parsed.GetValue(yard),
                Truck = parsed.GetValue(truck),
                By = Text(parsed.GetValue(by)),
                Note = Text(parsed.GetValue(note)),
                At = environment.Time.GetUtcNow(),
            });
            var plan = job.Renew(data.RequireAnalysis());
            environment.Out.WriteLine($"Blocked {mark.Weeks} for {mark.Truck ?? mark.Yard ?? "every yard"} (mark {mark.Id}).");
            Said(environment.Out, before, plan);
        }));
        return command;
    }

    public static Command Unblock(GlobalOptions globals, CliEnvironment environment)
    {
        var id = new Argument<long>("ID") { Description = "The mark's id, as 'plan marks' lists it." };
        var command = new Command("unblock", "Take a block off.\n\nExample: vanehour plan unblock 3");
        command.Arguments.Add(id);
        command.SetAction(parsed => WithPlan(parsed, globals, environment, (data, job) =>
        {
            var wanted = parsed.GetValue(id);
            if (job.Book.Marks().FirstOrDefault(m => m.Id == wanted && m.Kind == PlanMarkKind.Block) is not { } block || !job.Book.Remove(wanted))
            {
                throw new CommandFailedException($"There is no block {wanted}; see 'vanehour plan marks'.");
            }

            var before = job.Book.Latest();
            var plan = job.Renew(data.RequireAnalysis());
            environment.Out.WriteLine($"Took the block of {block.Weeks} for {block.Truck ?? block.Yard ?? "every yard"} off.");
            Said(environment.Out, before, plan);
        }));
        return command;
    }

    public static Command List(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var command = new Command("marks", "List pins and blocks.\n\nExample: vanehour plan marks");
        listing.AddTo(command);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            Listing.Write(environment.Out, listing.Format(parsed), new PlanBook(data.Plans).Marks(), Columns, HostJson.Default.IReadOnlyListPlanMark, "No pin and no block.");
            return ExitCode.Done;
        });
        return command;
    }

    private static int WithPlan(ParseResult parsed, GlobalOptions globals, CliEnvironment environment, Action<DataFolder, PlanJob> work)
    {
        using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
        data.RequireAnalysis();
        work(data, new PlanJob(data, SettingsFile.Read(data.Folder), environment.Time));
        return ExitCode.Done;
    }

    private static void Said(TextWriter output, RebuildPlan? before, RebuildPlan plan)
    {
        PlanPage.WriteMoves(output, plan.Moves);
        if (before is not null)
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Expected cost of the plan: {plan.Cost:0}, before {before.Cost:0}."));
        }

        foreach (var remark in plan.Remarks)
        {
            output.WriteLine(remark);
        }
    }

    private static PlanWeek ParseWeek(string text) =>
        PlanWeek.TryParse(text, out var week) ? week
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? PlanWeek.Of(day)
        : throw new CommandFailedException($"'{text}' is no week; write it as 2027-W05, or a day in it as 2027-02-03.");

    private static Argument<string> Truck() => new("TRUCK") { Description = "The truck." };

    private static Argument<string> Week(string name, string description) => new(name) { Description = description };

    private static Option<string?> By() => new("--by") { Description = "Who says so.", HelpName = "NAME" };

    private static Option<string?> Note() => new("--note") { Description = "Why, or what else there is to say.", HelpName = "TEXT" };

    private static string? Text(string? given) => string.IsNullOrWhiteSpace(given) ? null : given.Trim();
}
