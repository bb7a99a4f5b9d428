using System.CommandLine;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Fleet.Units;
using Vanehour.Host.Composition;
using Vanehour.Host.Output;

namespace Vanehour.Host.Commands;

/// <summary>Lists the runs of one truck.</summary>
internal static class RunsCommand
{
    /// <summary>The columns in CSV files.</summary>
    internal static readonly Column<RunRow>[] CsvColumns =
    [
        new("truck", "Truck", r => r.Truck),
        new("start", "Start", r => r.Start),
        new("end", "End", r => r.End),
        new("hours_h", "Hours", r => r.HoursH),
        new("vacuum_mean_kpa", "Vacuum mean", r => r.VacuumMeanKpa),
        new("vacuum_max_kpa", "Vacuum max", r => r.VacuumMaxKpa),
        new("minutes_above_vacuum_limit_min", "Above limit, min", r => r.MinutesAboveVacuumLimit),
        new("pressure_max_kpa", "Pressure max", r => r.PressureMaxKpa),
        new("pump_temp_max_c", "Temperature max", r => r.PumpTempMaxC),
        new("temp_rise_k", "Rise", r => r.TempRiseK),
        new("speed_mean_rpm", "Speed", r => r.SpeedMeanRpm),
        new("oil_used_l", "Oil", r => r.OilUsedL),
        new("oil_rate_l_per_h", "Oil rate", r => r.OilRateLPerH),
        new("check", "First pump-down", r => r.Check),
        new("plateau_kpa", "Plateau", r => r.PlateauKpa),
        new("watch_time_s", "5 to 12 inHg", r => r.WatchTimeS),
        new("coverage", "Coverage", r => r.Coverage),
        new("notes", "Notes", r => string.Join(' ', r.Notes)),
    ];

    public static Command Create(GlobalOptions globals, CliEnvironment environment)
    {
        var truck = new Argument<string>("TRUCK") { Description = "The truck's id." };
        var from = InstantOption.Create("--from", "Only runs that start at or after this instant.");
        var to = InstantOption.Create("--to", "Only runs that start before this instant.");
        var units = new UnitsOption();
        var listing = new ListingOptions();
        var command = new Command("runs", "List the runs of a truck: hours, vacuum, temperature, oil, and the start-up checks among them.\n\nExample: vanehour runs T07 --from 2026-06-01");
        command.Arguments.Add(truck);
        command.Options.Add(from);
        command.Options.Add(to);
        units.AddTo(command);
        listing.AddTo(command);
        command.SetAction(parsed =>
        {
            var folder = parsed.GetValue(globals.Data)!;
            using var data = DataFolder.OpenExisting(folder);
            var id = parsed.GetValue(truck)!;
            var rows = data.Runs.Read(id, parsed.GetValue(from), parsed.GetValue(to)).Select(RunRow.Of).ToList();
            if (rows.Count == 0)
            {
                data.RequireTruck(id);
            }

            var format = listing.Format(parsed);
            Listing.Write(
                environment.Out,
                format,
                rows,
                format == ListingFormat.Csv ? CsvColumns : TableColumns(units.Get(parsed, folder).IsTrade),
                (JsonTypeInfo<IReadOnlyList<RunRow>>)HostJson.Default.IReadOnlyListRunRow,
                data.Runs.Read(id).Count > 0
                    ? $"Truck {id} has runs, but none in that time."
                    : $"Truck {id} has no runs here; run 'vanehour analyse' after samples have arrived.");
            return ExitCode.Done;
        });
        return command;
    }

    private static Column<RunRow>[] TableColumns(bool isTrade)
    {
        var vacuum = isTrade ? Unit.InchOfMercury : Unit.Kilopascal;
        var pressure = isTrade ? Unit.Psi : Unit.Kilopascal;
        var temperature = isTrade ? Unit.Fahrenheit : Unit.Celsius;
        var oil = isTrade ? Unit.Quart : Unit.LitreUpper;
        return
        [
            new("start", "Start", r => r.Start),
            new("hours", "PTO hours", r => r.HoursH, "0.00"),
            new("vacuum_mean", $"Vacuum mean, {vacuum.Symbol}", r => Convert(Unit.Kilopascal, vacuum, r.VacuumMeanKpa), "0.0"),
            new("vacuum_max", $"Vacuum max, {vacuum.Symbol}", r => Convert(Unit.Kilopascal, vacuum, r.VacuumMaxKpa), "0.0", Rank: 3),
            new("pressure_max", $"Pressure max, {pressure.Symbol}", r => Convert(Unit.Kilopascal, pressure, r.PressureMaxKpa), "0.0", Rank: 2),
            new("temp_max", $"Temp. max, {temperature.Symbol}", r => Convert(Unit.Celsius, temperature, r.PumpTempMaxC), "0"),
            new("oil", $"Oil, {oil.Symbol}/h", r => Convert(Unit.LitreUpper, oil, r.OilRateLPerH), "0.000"),
            new("check", "First pump-down", r => r.Check),
            new("watch_time", "5 to 12 inHg, s", r => r.WatchTimeS, "0.0"),
            new("notes", "Notes", r => string.Join(' ', r.Notes), Rank: 1),
        ];
    }

    private static double? Convert(Unit from, Unit to, double? value) => value is { } v ? from.ConvertTo(to, v) : null;
}
