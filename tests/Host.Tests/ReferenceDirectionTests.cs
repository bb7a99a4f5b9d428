using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

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
    [InlineData("Vanehour.Board", "Vanehour.Reports", "Vanehour.Models", "Vanehour.Store", "Vanehour.Fleet")]
    [InlineData("Vanehour.Simulator", "Vanehour.Fleet")]
    [InlineData("Vanehour.Scoring", "Vanehour.Simulator", "Vanehour.Models", "Vanehour.Store", "Vanehour.Fleet")]
    public void AProjectRefersOnlyToThoseBelowIt(string assembly, params string[] allowed)
    {
        var own = Assembly.Load(assembly).GetReferencedAssemblies()
            .Select(a => a.Name!)
            .Where(n => n.StartsWith("Vanehour", StringComparison.Ordinal) || n == "vanehour");
        Assert.Empty(own.Except(allowed));
    }

    // What the simulator knows of its fleet may be written to a file by the command that simulates; nothing else here can even name it.
    [Fact]
    public void OnlyTheTruthFilesWriterIsKnownToTheExecutable()
    {
        using var stream = File.OpenRead(typeof(Cli).Assembly.Location);
        using var executable = new PEReader(stream);
        var metadata = executable.GetMetadataReader();
        var used = metadata.TypeReferences
            .Select(metadata.GetTypeReference)
            .Where(t => metadata.GetString(t.Namespace) == "Vanehour.Simulator")
            .Select(t => metadata.GetString(t.Name))
            .ToList();
        Assert.Contains("SimulatedFleet", used);
        Assert.Equal(["TruthFile"], used.Where(n => n.Contains("Truth", StringComparison.Ordinal)));
    }
}
