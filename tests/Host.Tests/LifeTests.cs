using System.Text.Json;
using Vanehour.Models.PumpLives;

namespace Vanehour.Host.Tests;

public sealed class LifeTests : IDisposable
{
    private readonly CommandLine cli = new();

    public void Dispose() => cli.Dispose();

    [Fact]
    public async Task Life_OfAFleetWithHistory_BeforeAnyAnalysis()
    {
        var register = Path.Combine(cli.Folder, "register");
        await RunAsync("simulate", "--trucks", "30", "--months", "1", "--seed", "5", "--history-years", "8", "--register", register);
        await RunAsync("import", Path.Combine(register, "pump-models.csv"), Path.Combine(register, "trucks.csv"), Path.Combine(register, "service.csv"));

        using var models = JsonDocument.Parse(await RunAsync("life", "--json"));
        using var lives = JsonDocument.Parse(await RunAsync("life", "--each", "--json"));
        Assert.Equal(lives.RootElement.GetArrayLength(), models.RootElement.EnumerateArray().Sum(m => m.GetProperty("lives").GetInt32()));
        Assert.Equal(
            lives.RootElement.EnumerateArray().Count(l => l.GetProperty("ending").GetString() == "Failed"),
            models.RootElement.EnumerateArray().Sum(m => m.GetProperty("failures").GetInt32()));
        var thistle = models.RootElement.EnumerateArray().Single(m => m.GetProperty("pump_model").GetString() == "Thistle 230");
        var b10 = thistle.GetProperty("b10_h");
        Assert.InRange(b10.GetProperty("mid").GetDouble(), b10.GetProperty("low").GetDouble(), b10.GetProperty("high").GetDouble());
        Assert.True(thistle.GetProperty("weibull").GetProperty("shape").GetDouble() > 1);

        var table = await RunAsync("life");
        Assert.Contains("Thistle 230", table, StringComparison.Ordinal);
        Assert.Contains("Left out, its records begin with its end: ", table, StringComparison.Ordinal);
        Assert.Contains("Life:FailureCostRatio", table, StringComparison.Ordinal);
        using var compared = JsonDocument.Parse(await RunAsync("compare", "--json"));
        Assert.Equal(models.RootElement.GetArrayLength(), compared.RootElement.GetProperty("models").GetArrayLength());
        Assert.Equal(6, compared.RootElement.GetProperty("pairs").GetArrayLength());
        Assert.Equal(3, compared.RootElement.GetProperty("log_rank").GetProperty("df").GetInt32());
        Assert.All(compared.RootElement.GetProperty("pairs").EnumerateArray(), p => Assert.Contains(p.GetProperty("verdict").GetString(), Enum.GetNames<PairVerdict>()));
        Assert.True(compared.RootElement.GetProperty("models")[0].TryGetProperty("wear_per_1000h", out _));
        Assert.Contains("Harrow 310 and Thistle 230", await RunAsync("compare"), StringComparison.Ordinal);
        Assert.DoesNotContain("Harrow", await RunAsync("life", "--model", "Thistle 230", "--csv"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{ \"Life\": { \"FailureCostRatio\": 0.5 } }", "FailureCostRatio must be above 1")]
    [InlineData("{ \"Life\": { \"CostRatio\": 2 } }", "CostRatio")]
    public async Task SettingsThatCannotBeUsed_AreOneSentence(string settings, string expected)
    {
        var register = Path.Combine(cli.Folder, "register");
        await RunAsync("simulate", "--trucks", "3", "--months", "1", "--register", register);
        await RunAsync("import", Path.Combine(register, "pump-models.csv"), Path.Combine(register, "trucks.csv"));
        await File.WriteAllTextAsync(Path.Combine(cli.Data, "vanehour.json"), settings);
        var (code, _, error) = await cli.RunAsync("life");
        Assert.NotEqual(ExitCode.Done, code);
        Assert.Contains(expected, error, StringComparison.Ordinal);
    }

    private async Task<string> RunAsync(params string[] args)
    {
        var (code, output, error) = await cli.RunAsync(args);
        Assert.True(code == ExitCode.Done, error);
        return output;
    }
}
