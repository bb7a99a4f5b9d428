using System.Reflection;

namespace Vanehour.Host.Tests;

/// <summary>References between the projects go one way (DEVELOPERS.md, Layout).</summary>
public class ReferenceDirectionTests
{
    [Theory]
    [InlineData("Vanehour.Fleet")]
    [InlineData("Vanehour.Store", "Vanehour.Fleet")]
    [InlineData("Vanehour.Ingest", "Vanehour.Store", "Vanehour.Fleet")]
    [InlineData("Vanehour.Models", "Vanehour.Store", "Vanehour.Fleet")]
    [InlineData("Vanehour.Reports", "Vanehour.Models", "Vanehour.Store", "Vanehour.Fleet")]
    [InlineData("Vanehour.Simulator", "Vanehour.Fleet")]
    public void AProjectRefersOnlyToThoseBelowIt(string assembly, params string[] allowed)
    {
        var own = Assembly.Load(assembly).GetReferencedAssemblies()
            .Select(a => a.Name!)
            .Where(n => n.StartsWith("Vanehour", StringComparison.Ordinal) || n == "vanehour");
        Assert.Empty(own.Except(allowed));
    }
}
