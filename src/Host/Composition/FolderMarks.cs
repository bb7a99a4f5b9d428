using Vanehour.Host.Demo;
using Vanehour.Reports;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Composition;

/// <summary>What kind of data a folder holds: a real fleet's, a demonstration's or a drill's.</summary>
internal static class FolderMarks
{
    /// <summary>How pictures of a folder are drawn: with the mark that they are not of real trucks, where they are not.</summary>
    public static ReportOptions Reports(string folder) => new() { Simulated = IsInvented(folder), Training = DrillFolder.IsDrill(folder) };

    /// <summary>Whether the fleet is invented. Its clock then stands where its data end.</summary>
    public static bool IsInvented(string folder) => DrillFolder.IsDrill(folder) || DemoSettings.Read(folder) is not null;

    /// <summary>Sees that nothing is fed into a drill.</summary>
    /// <exception cref="CommandFailedException">The folder is a drill's.</exception>
    public static void RefuseDrill(string folder, string command)
    {
        if (DrillFolder.IsDrill(folder))
        {
            throw new CommandFailedException($"{Path.GetFullPath(folder)} holds a training drill, whose data must stay as they are; '{command}' needs another folder: name it with --data.");
        }
    }
}
