using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Results;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.Results;

public sealed class ModelsJsonTests
{
    private static readonly DateTimeOffset Instant = new(2026, 3, 1, 6, 30, 0, TimeSpan.FromHours(-6));

    private static readonly Lazy<AnalysisSnapshot> Snapshot = new(() =>
    {
        SyntheticTruck[] trucks =
        [
            .. Enumerable.Range(1, 4).Select(i => new SyntheticTruck { Id = $"T{i}", OilFault = day => i == 2 && day > 80 ? 1.5 : 1 }),
            new SyntheticTruck { Id = "T5", WearPer1000H = 0 },
        ];
        return new AnalysisCore(new AnalysisOptions()).Run(new SyntheticFleet(trucks, 120, 2).Data(), [], null, CancellationToken.None).Snapshot;
    });

    [Fact]
    public void FittedModel_RoundTrips() => RoundTrip(Snapshot.Value.Models[0], ModelsJson.Default.FittedModel, m => m.Coefficients, m => m.Warnings);

    [Fact]
    public void IndicatorSeries_RoundTrips()
    {
        var series = Snapshot.Value.Series[0];
        Assert.NotEmpty(series.Points);
        var back = RoundTrip(series, ModelsJson.Default.IndicatorSeries);
        Assert.Equal(series.Points, back.Points.AsEnumerable());
    }

    [Fact]
    public void IndicatorPoint_NotJudged_IsNullInJson()
    {
        var json = JsonSerializer.Serialize(
            new IndicatorSeries { Truck = "T1", Indicator = Indicator.OilUse, Level = 0.95, Points = [new IndicatorPoint(Instant, 1, 1, 0.5, null, null, null)] },
            ModelsJson.Default.IndicatorSeries);
        Assert.Equal(
            """{"truck":"T1","indicator":"OilUse","level":0.95,"lenses":null,"points":[{"at":"2026-03-01T12:30:00Z","hours_since_fitting":1,"run_hours":1,"seen":0.5,"expected_low":null,"expected":null,"expected_high":null}]}""",
            json);
    }

    [Fact]
    public void WearForecast_RoundTrips()
    {
        var wear = Snapshot.Value.Wear[0];
        var back = RoundTrip(wear, ModelsJson.Default.WearForecast);
        Assert.Equal(wear.Checks, back.Checks.AsEnumerable());
        Assert.Equal(wear.Fan, back.Fan.AsEnumerable());
        Assert.Equal(wear.HoursToLimit, back.HoursToLimit);
        Assert.Equal(wear.DateOfLimit, back.DateOfLimit);
        Assert.Equal(wear.Wear, back.Wear);
        Assert.Equal(wear.WearPer1000H, back.WearPer1000H);
    }

    [Fact]
    public void WearForecast_HasTheNamesOtherToolsRead()
    {
        var wear = Snapshot.Value.Wear[0];
        using var json = JsonDocument.Parse(JsonSerializer.Serialize(wear, ModelsJson.Default.WearForecast));
        var root = json.RootElement;
        foreach (var name in new[]
        {
            "truck", "pump_serial", "pump_model", "as_of", "hours_since_fitting", "wear", "hours_to_limit", "date_of_limit", "observations", "status",
            "flow_kept_limit", "wear_per_1000h", "wear_per_1000h_se", "hours_per_day", "checks", "fan", "remarks",
        })
        {
            Assert.True(root.TryGetProperty(name, out _), name);
        }

        Assert.Equal(["low", "mid", "high"], root.GetProperty("wear").EnumerateObject().Select(p => p.Name));
        Assert.Equal(["p10", "p50", "p90"], root.GetProperty("hours_to_limit").EnumerateObject().Select(p => p.Name));
        Assert.Equal(["p10", "p50", "p90"], root.GetProperty("date_of_limit").EnumerateObject().Select(p => p.Name));
        Assert.Equal(wear.Status.ToString(), root.GetProperty("status").GetString());
        Assert.EndsWith("Z", root.GetProperty("as_of").GetString(), StringComparison.Ordinal);
        Assert.Equal(
            ["at", "hours_since_fitting", "flow_kept", "flow_kept_se", "wear", "wear_se", "plateau_kpa", "ended_at_relief", "watch_time_5_to_12_inhg_s", "is_baseline"],
            root.GetProperty("checks")[0].EnumerateObject().Select(p => p.Name));
    }

    [Fact]
    public void WearForecast_BeyondTheHorizon_IsNullWithAStatus()
    {
        using var json = JsonDocument.Parse(JsonSerializer.Serialize(Snapshot.Value.Wear[4], ModelsJson.Default.WearForecast));
        Assert.Equal("NotReached", json.RootElement.GetProperty("status").GetString());
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("hours_to_limit").GetProperty("p90").ValueKind);
    }

    [Fact]
    public void Finding_RoundTrips()
    {
        var finding = Assert.Single(Snapshot.Value.Findings) with { CauseFound = Cause.OilLeak, Closed = Instant, Note = "seal", Status = FindingStatus.Closed, Closing = FindingClosing.Person, ClosedBy = "A", Watched = new WatchedLimit(Instant, Instant, 2, 1, "kPa", 60) };
        var back = RoundTrip(finding, ModelsJson.Default.Finding);
        Assert.Equal(finding.Evidence, back.Evidence.AsEnumerable());
        Assert.Equal(finding.Causes, back.Causes.AsEnumerable());
        Assert.Equal(finding.Checks, back.Checks.AsEnumerable());
        Assert.Equal(Instant, back.Closed);
        Assert.Equal(Cause.OilLeak, back.CauseFound);
    }

    [Fact]
    public void Finding_HasTheNamesOtherToolsRead()
    {
        var finding = Assert.Single(Snapshot.Value.Findings);
        using var json = JsonDocument.Parse(JsonSerializer.Serialize(finding, ModelsJson.Default.Finding));
        var root = json.RootElement;
        Assert.Equal(
            ["id", "truck", "pump_serial", "kind", "urgency", "status", "since", "closed", "note", "cause_found", "evidence", "began", "signs", "causes", "checks",
                "closing", "acknowledged_by", "closed_by", "nothing_found", "watched"],
            root.EnumerateObject().Select(p => p.Name));
        Assert.Equal("OilUseHigh", root.GetProperty("kind").GetString());
        Assert.Equal("Week", root.GetProperty("urgency").GetString());
        Assert.Equal("Open", root.GetProperty("status").GetString());
        Assert.Equal(["indicator", "value", "unit", "expected_low", "expected_high"], root.GetProperty("evidence")[0].EnumerateObject().Select(p => p.Name));
        Assert.Equal(["cause", "weight", "for", "against"], root.GetProperty("causes")[0].EnumerateObject().Select(p => p.Name));
        Assert.Equal(["check", "caution"], root.GetProperty("checks")[0].EnumerateObject().Select(p => p.Name));
    }

    [Fact]
    public void AnalysisSnapshot_RoundTrips() => RoundTrip(Snapshot.Value, ModelsJson.Default.AnalysisSnapshot);

    [Fact]
    public void AnalysisHeader_RoundTrips() => RoundTrip(
        new AnalysisHeader { AsOf = Instant, Seed = ulong.MaxValue, Pumps = 3, Runs = 12, Remarks = ["one"] }, ModelsJson.Default.AnalysisHeader, h => h.Remarks);

    [Fact]
    public void Knowledge_RoundTrips() => RoundTrip(Knowledge.Default, ModelsJson.Default.Knowledge);

    [Fact]
    public void NaN_CannotBeWritten() => Assert.Throws<ArgumentException>(() => JsonSerializer.Serialize(
        Snapshot.Value.Models[0] with { ResidualScale = double.NaN }, ModelsJson.Default.FittedModel));

    [Fact]
    public void UnknownOrMissingMembers_AreRefused()
    {
        var json = JsonSerializer.Serialize(Snapshot.Value.Models[0], ModelsJson.Default.FittedModel);
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize(json.Insert(1, "\"extra\":1,"), ModelsJson.Default.FittedModel));
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize("{}", ModelsJson.Default.FittedModel));
    }

    [Fact]
    public void GermanCulture_WritesThePointAllTheSame()
    {
        var before = System.Globalization.CultureInfo.CurrentCulture;
        try
        {
            System.Globalization.CultureInfo.CurrentCulture = new System.Globalization.CultureInfo("de-DE");
            Assert.Contains("0.5", JsonSerializer.Serialize(Snapshot.Value.Models[0] with { ResidualScale = 0.5 }, ModelsJson.Default.FittedModel), StringComparison.Ordinal);
        }
        finally
        {
            System.Globalization.CultureInfo.CurrentCulture = before;
        }
    }

    // Immutable arrays compare by reference inside records, so the text is compared, and each array asked for by its elements.
    private static T RoundTrip<T>(T value, JsonTypeInfo<T> type, params Func<T, System.Collections.IEnumerable>[] arrays)
    {
        var json = JsonSerializer.Serialize(value, type);
        var back = JsonSerializer.Deserialize(json, type)!;
        Assert.Equal(json, JsonSerializer.Serialize(back, type));
        Assert.All(arrays, array => Assert.Equal(array(value).Cast<object>(), array(back).Cast<object>()));
        return back;
    }
}
