using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Lists what the feed sent and Vanehour refused.</summary>
internal static class RejectsCommand
{
    private const int PayloadPreview = 60;

    private static readonly Column<RejectRow>[] Columns =
    [
        new("reason", "Reason", r => r.Reason),
        new("topic", "Topic", r => r.Topic),
        new("first_arrived", "First", r => r.FirstArrived, "yyyy-MM-dd HH:mm:ss'Z'", Rank: 3),
        new("last_arrived", "Last", r => r.LastArrived, "yyyy-MM-dd HH:mm:ss'Z'"),
        new("times", "Times", r => r.Times),
        new("detail", "Detail", r => r.Detail),
    ];

    private static readonly Column<RejectRow>[] TableColumns =
        [.. Columns, new("payload", "Payload starts", r => r.Payload.Length > PayloadPreview ? r.Payload[..PayloadPreview] + "..." : r.Payload, Rank: 2)];

    private static readonly Column<RejectRow>[] CsvColumns = [.. Columns, new("payload", "Payload", r => r.Payload)];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var limit = new Option<int>("--limit") { Description = "How many at most, latest first.", DefaultValueFactory = _ => 100, HelpName = "N" };
        var command = new Command("rejects", "List what was refused: topic, reason, how often, and the payload.\n\nExample: vanehour rejects --limit 20");
        listing.AddTo(command);
        command.Options.Add(limit);
        command.Validators.Add(result =>
        {
            if (result.TryGet(limit, out var given) && given < 1)
            {
                result.AddError("--limit must be 1 or more.");
            }
        });
        command.SetAction(async (parsed, cancellationToken) =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var rows = (await data.Rejects.ReadAsync(parsed.GetValue(limit), cancellationToken)).Select(RejectRow.Of).ToList();
            var format = listing.Format(parsed);
            Listing.Write(
                environment.Out,
                format,
                rows,
                format == ListingFormat.Csv ? CsvColumns : TableColumns,
                (JsonTypeInfo<IReadOnlyList<RejectRow>>)HostJson.Default.IReadOnlyListRejectRow,
                "Nothing was refused.");
            if (format == ListingFormat.Table && rows.Count > 0)
            {
                var counts = await data.Rejects.CountAsync(cancellationToken);
                environment.Out.WriteLine("By reason: " + string.Join(", ", counts.OrderByDescending(c => c.Value).Select(c => $"{c.Key} {c.Value}")));
            }

            return ExitCode.Done;
        });
        return command;
    }
}
