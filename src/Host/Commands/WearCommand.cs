using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;
using Vanehour.Models.VaneWear;

namespace Vanehour.Host.Commands;

/// <summary>Lists the wear of every pump and when it reaches its limit.</summary>
internal static class WearCommand
{
    /// <summary>The columns in CSV files.</summary>
    internal static readonly Column<WearForecast>[] Columns =
    [
        new("truck", "Truck", w => w.Truck),
        new("pump_serial", "Pump serial", w => w.PumpSerial, Rank: 5),
        new("pump_model", "Pump model", w => w.PumpModel, Rank: 4),
        new("as_of", "As of", w => w.AsOf, "yyyy-MM-dd", Rank: 6),
        new("hours_since_fitting_h", "Since fitting, h", w => w.HoursSinceFitting, "0", Rank: 1),
        new("wear_low", "Wear, low", w => w.Wear?.Low, "0.00", Rank: 2),
        new("wear_mid", "Wear, mid", w => w.Wear?.Mid, "0.00"),
        new("wear_high", "Wear, high", w => w.Wear?.High, "0.00", Rank: 2),
        new("hours_to_limit_p10_h", "Hours to limit, 10 %", w => w.HoursToLimit?.P10, "0", Rank: 3),
        new("hours_to_limit_p50_h", "Hours to limit, 50 %", w => w.HoursToLimit?.P50, "0"),
        new("hours_to_limit_p90_h", "Hours to limit, 90 %", w => w.HoursToLimit?.P90, "0", Rank: 3),
        new("date_of_limit_p10", "Limit date, 10 %", w => w.DateOfLimit?.P10, "yyyy-MM-dd"),
        new("date_of_limit_p50", "Limit date, 50 %", w => w.DateOfLimit?.P50, "yyyy-MM-dd"),
        new("date_of_limit_p90", "Limit date, 90 %", w => w.DateOfLimit?.P90, "yyyy-MM-dd"),
        new("limit_by", "Limit by", w => w.LimitBy, Rank: 8),
        new("observations", "Observations", w => w.Observations, Rank: 7),
        new("status", "Status", w => w.Status),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var listing = new ListingOptions();
        var filter = new TruckFilter();
        var command = new Command(
            "wear",
            "List the wear of every pump (1 is the limit), and hours and date of the limit with their 10, 50 and 90 % quantiles.\n\nExample: vanehour wear --json");
        listing.AddTo(command);
        filter.AddTo(command);
        command.SetAction(parsed =>
        {
            using var data = DataFolder.OpenExisting(parsed.GetValue(globals.Data)!);
            var trucks = filter.Trucks(parsed, data);
            var rows = data.RequireAnalysis().Wear.Where(w => trucks.Contains(w.Truck)).ToList();
            Listing.Write(environment.Out, listing.Format(parsed), rows, Columns, (JsonTypeInfo<IReadOnlyList<WearForecast>>)HostJson.Default.IReadOnlyListWearForecast, "No pump to show.");
            return ExitCode.Done;
        });
        return command;
    }
}
