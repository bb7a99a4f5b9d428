using Vanehour.Models.Findings;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Tests;

public class EvidenceTextTests
{
    [Theory]
    [InlineData("temperature rise", 50, "K", 40.0, 45.0, true, "temperature rise 90.0 degF, expected 72.0 to 81.0")]
    [InlineData("temperature rise", 50, "K", 40.0, 45.0, false, "temperature rise 50.0 K, expected 40.0 to 45.0")]
    [InlineData("temperature", 100, "Cel", null, 120.0, true, "temperature 212 degF, expected at most 248")]
    [InlineData("vacuum", 60, "kPa", null, 50.8, true, "vacuum 17.7 inHg, expected at most 15.0")]
    [InlineData("oil use", 0.148, "L/h", 0.269, null, false, "oil use 0.148 L/h, expected at least 0.269")]
    [InlineData("oil use", 0.946352946, "L/h", null, null, true, "oil use 1.00 qt/h")]
    [InlineData("wear", 0.878, "1", null, 1.0, true, "wear 0.878, expected at most 1.00")]
    [InlineData("PTO hours to the limit", 1239.4, "h", null, null, true, "PTO hours to the limit 1239 h")]
    public void EvidenceIsSaidInTheReadersUnits(string indicator, double value, string unit, double? low, double? high, bool isTrade, string expected) =>
        Assert.Equal(expected, EvidenceText.Of(new Evidence(indicator, value, unit, low, high), isTrade));
}
