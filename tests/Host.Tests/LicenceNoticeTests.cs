using System.Text.Json;
using System.Text.RegularExpressions;

namespace Vanehour.Host.Tests;

/// <summary>What the solver's packages bring is in the notices, by what the build really took.</summary>
public sealed partial class LicenceNoticeTests
{
    private static readonly string Notices = File.ReadAllText(Path.Combine(Root(), "THIRD-PARTY-NOTICES.md"));

    [Fact]
    public void EveryNativeLibraryOfTheSolver_IsNamedWithItsLicence()
    {
        var libraries = Packages().Where(p => p.Name.StartsWith("Google.OrTools.runtime.", StringComparison.Ordinal))
            .SelectMany(p => p.Value.TryGetProperty("runtimeTargets", out var files) ? files.EnumerateObject().Select(f => f.Name) : [])
            .Select(f => LibraryName().Match(Path.GetFileName(f)).Groups["name"].Value)
            .ToHashSet(StringComparer.Ordinal);
        Assert.True(libraries.Count > 20);
        var named = TableName().Matches(Notices).Select(m => m.Groups["name"].Value).ToList();
        Assert.All(libraries, l => Assert.Contains(named, n => n.EndsWith('*') ? l.StartsWith(n[..^1], StringComparison.Ordinal) : n == l));
    }

    [Fact]
    public void PackagesAreThere_InTheVersionThatTheBuildTook()
    {
        var packages = Packages().Select(p => p.Name).ToList();
        Assert.All(new[] { "Google.OrTools", "Google.Protobuf", "Ical.Net", "NodaTime" }, name =>
        {
            Assert.Contains(packages, p => p.StartsWith(name + "/", StringComparison.Ordinal));
            Assert.Contains(name, Notices, StringComparison.Ordinal);
        });
        Assert.Contains("Version " + packages.Single(p => p.StartsWith("Google.OrTools/", StringComparison.Ordinal)).Split('/')[1], Notices, StringComparison.Ordinal);
    }

    // As 'libCbc.so.2', 'libprotobuf.33.1.0.dylib', 'ortools.dll'.
    [GeneratedRegex(@"^(lib)?(?<name>[A-Za-z0-9_-]+?)(\.[0-9.]+)?\.(so|dylib|dll)(\.[0-9.]+)?$")]
    private static partial Regex LibraryName();

    [GeneratedRegex("`(?<name>[A-Za-z0-9_*-]+)`(?=[^|\n]*\\|)")]
    private static partial Regex TableName();

    private static List<JsonProperty> Packages()
    {
        using var file = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Vanehour.Host.Tests.deps.json")));
        return [.. file.RootElement.Clone().GetProperty("targets").EnumerateObject().SelectMany(t => t.Value.EnumerateObject())];
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Telemetry.sln")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("The repository was not found above the tests.");
        }

        return folder.FullName;
    }
}
