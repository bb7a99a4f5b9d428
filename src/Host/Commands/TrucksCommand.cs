using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Lists the trucks, registered or only heard.</summary>
internal static class TrucksCommand
{
    /// <summary>The columns in CSV files.</summary>
    internal static readonly Column<TruckRow>[] Columns =
    [
        new("truck", "Truck", r => r.Truck),
        new("name", "Name", r => r.Name, Rank: 4),
        new("yard", "Yard", r => r.Yard, Rank: 3),
        new("pump_model", "Pump model", r => r.PumpModel),
        new("pump_serial", "Pump serial", r => r.PumpSerial, Rank: 2),
        new("meter_h", "Meter, h", r => r.MeterH, "0.0"),
        new("hours_since_fitting_h", "Since fitting, h", r => r.HoursSinceFitting, "0.0"),
        new("last_heard", "Last heard", r => r.LastHeard),
        new("registered", "Registered", r => r.Registered, Rank: 1),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var yard = new Option<string?>("--yard") { Description = "Only trucks of this yard.", HelpName = "YARD" };
        var model = new Option<string?>("--model") { Description = "Only trucks with this pump model.", HelpName = "MODEL" };
        var command = new Command("trucks", "List the trucks: pump, meter, hours since fitting, when last heard.\n\nExample: vanehour trucks --yard North --csv");
        listing.AddTo(command);
        command.Options.Add(yard);
        command.Options.Add(model);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var all = await TruckRows.ReadAsync(data, cancellationToken);
            TruckFilter.Require(parsed.GetValue(yard), "is in a yard", all.Select(r => r.Yard));
            TruckFilter.Require(parsed.GetValue(model), "has a pump model", all.Select(r => r.PumpModel));
            var rows = all
                .Where(r => parsed.GetValue(yard) is not { } y || r.Yard == y)
                .Where(r => parsed.GetValue(model) is not { } m || r.PumpModel == m)
                .ToList();
            Listing.Write(
                environment.Out,
                listing.Format(parsed),
                rows,
                Columns,
                (JsonTypeInfo<IReadOnlyList<TruckRow>>)HostJson.Default.IReadOnlyListTruckRow,
                "No truck is registered and none was heard; import trucks with 'vanehour import'.");
            return ExitCode.Done;
        });
        return command;
    }
}
