using System.Globalization;

namespace Vanehour.Bench.Faults.Reporting;

/// <summary>Prints what was measured, and keeps it in a folder as <c>AREA-YYYY-MM-DD.md</c>.</summary>
/// <param name="folder">The folder, or null.</param>
/// <param name="machine">What it was measured on.</param>
internal sealed class ResultFiles(string? folder, string machine)
{
    public void Write(string area, string text, string more = "")
    {
        var now = TimeProvider.System.GetUtcNow();
        var page = string.Create(
            CultureInfo.InvariantCulture,
            $"# {char.ToUpperInvariant(area[0])}{area[1..].Replace('-', ' ')}, {now:yyyy-MM-dd}\n\nMeasured on {machine}; everything on loopback, other programs ran beside it. {more}\n\n{text}");
        Console.Out.WriteLine(page);
        if (folder is not null)
        {
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, string.Create(CultureInfo.InvariantCulture, $"{area}-{now:yyyy-MM-dd}.md")), page);
        }
    }
}
