using System.Text;
using System.Text.Json;
using Vanehour.Fleet;

namespace Vanehour.Simulator.Tests.Files;

public class TruthFileTests
{
    private static readonly string[] FaultNames =
        ["type", "truck", "pump_serial", "fault", "onset", "severity", "serious", "harm_at", "ends", "findings"];

    private static readonly string[] LifeNames =
        ["type", "truck", "pump_serial", "fitted_at", "meter_at_fitting_h", "limit_at", "limit_at_h", "fails_at_h", "removed_at"];

    private static readonly string[] CheckNames = ["type", "truck", "at", "complete", "gas_share", "flow_kept"];

    private static readonly string[] StayNames = ["type", "truck", "from", "to"];

    private static readonly string[] GatewayNames = ["type", "truck", "kind", "from", "to"];

    [Fact]
    public void Lines_HaveExactlyTheNamesOfTheFormat()
    {
        var kinds = new HashSet<string>();
        foreach (var line in Written(Fleets.Demonstration.Value).Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            using var json = JsonDocument.Parse(line);
            var kind = json.RootElement.GetProperty("type").GetString()!;
            kinds.Add(kind);
            Assert.Equal(
                kind switch { "fault" => FaultNames, "life" => LifeNames, "stay" => StayNames, _ => CheckNames },
                json.RootElement.EnumerateObject().Select(p => p.Name));
            if (kind == "fault")
            {
                Assert.True(Enum.TryParse<Cause>(json.RootElement.GetProperty("fault").GetString(), out _));
                Assert.InRange(json.RootElement.GetProperty("severity").GetDouble(), 0.01, 1);
                Assert.EndsWith("Z", json.RootElement.GetProperty("onset").GetString(), StringComparison.Ordinal);
            }
        }

        Assert.Equal(["check", "fault", "life", "stay"], kinds.Order());
    }

    [Fact]
    public void Lines_NameTheInjectedDirt()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 3, Months = 1, Dirt = 3 });
        var lines = Written(fleet).Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(l => l.StartsWith("{\"type\":\"gateway\"", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(lines);
        Assert.Equal(fleet.Plans.Sum(p => fleet.GatewayEvents(p).Length), lines.Count);
        foreach (var line in lines)
        {
            using var json = JsonDocument.Parse(line);
            Assert.Equal(GatewayNames, json.RootElement.EnumerateObject().Select(p => p.Name));
            Assert.True(Enum.TryParse<GatewayEventKind>(json.RootElement.GetProperty("kind").GetString(), out _));
            Assert.Contains(fleet.Trucks, t => t.Id == json.RootElement.GetProperty("truck").GetString());
            Assert.True(json.RootElement.GetProperty("from").GetDateTimeOffset() <= json.RootElement.GetProperty("to").GetDateTimeOffset());
        }
    }

    [Fact]
    public void Write_MakesTheFolderAndSameFleetSameBytes()
    {
        var folder = Directory.CreateTempSubdirectory("truth").FullName;
        try
        {
            var file = Path.Combine(folder, "sealed", "truth.jsonl");
            TruthFile.Write(SimulatedFleet.Create(new SimulationOptions()), file);
            Assert.Equal(Written(Fleets.Demonstration.Value), File.ReadAllText(file));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Written(SimulatedFleet fleet)
    {
        using var stream = new MemoryStream();
        TruthFile.Write(fleet.Truth(), stream);
        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
