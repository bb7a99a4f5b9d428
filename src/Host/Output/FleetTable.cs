using System.Globalization;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Host.Composition;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;

namespace Vanehour.Host.Output;

/// <summary>The fleet at a glance, what needs doing first at the top.</summary>
internal static class FleetTable
{
    private const string BeyondHorizon = "beyond the horizon";

    public static void Write(TextWriter output, DataFolder data)
    {
        var analysis = data.RequireAnalysis();
        var findings = analysis.Findings.Where(f => f.Truck is not null).ToLookup(f => f.Truck!, StringComparer.Ordinal);
        Column<WearForecast>[] columns =
        [
            new("truck", "Truck", w => w.Truck),
            new("pump_model", "Pump model", w => w.PumpModel, Rank: 2),
            new("hours", "Since fitting, h", w => w.HoursSinceFitting, "0", Rank: 1),
            new("wear", "Wear (1 = limit)", w => w.Wear is { } wear ? string.Create(CultureInfo.InvariantCulture, $"{wear.Mid:0.00} ({wear.Low:0.00} to {wear.High:0.00})") : null),
            new("limit", "Limit reached", Limit),
            new("basis", "Basis", w => w.Status),
            new("findings", "Open findings", w => Findings(findings[w.Truck])),
        ];
        var rows = analysis.Wear
            .OrderBy(w => findings[w.Truck].Select(f => (int)f.Urgency).DefaultIfEmpty(int.MaxValue).Min())
            .ThenBy(w => w.DateOfLimit?.P50 ?? DateTimeOffset.MaxValue)
            .ThenBy(w => w.Truck, StringComparer.Ordinal)
            .ToList();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"As of {analysis.AsOf.UtcDateTime:yyyy-MM-dd HH:mm}Z"));
        Listing.Write(
            output, ListingFormat.Table, rows, columns, (JsonTypeInfo<IReadOnlyList<WearForecast>>)HostJson.Default.IReadOnlyListWearForecast, "No registered truck has a pump.");
        if (rows.Any(w => w.Wear is not null))
        {
            output.WriteLine("In brackets: the range that holds with 80 % chance.");
        }

        if (rows.Any(w => w.Status == ForecastStatus.Provisional))
        {
            output.WriteLine("Provisional: this pump was not heard from new and its vanes were not measured; what it was like as new is taken from the fleet.");
        }
    }

    private static string? Limit(WearForecast w) => w.DateOfLimit switch
    {
        null => null,
        { P10: null } => BeyondHorizon,
        { } date => string.Create(CultureInfo.InvariantCulture, $"{Day(date.P50)} ({Day(date.P10)} to {Day(date.P90)})"),
    };

    private static string Day(DateTimeOffset? date) => date is { } d ? d.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) : BeyondHorizon;

    private static string? Findings(IEnumerable<Finding> findings)
    {
        var text = string.Join(", ", findings.Select(f => $"{f.Kind} ({f.Urgency})"));
        return text.Length == 0 ? null : text;
    }
}
