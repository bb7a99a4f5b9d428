using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Host.Settings;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Host.Composition;

/// <summary>Reads the rounds of a data folder.</summary>
internal static class RoundReading
{
    /// <summary>Rounds are due by the clock, not by the last analysis; only the clock of a demonstration or a drill stands where its data end.</summary>
    public static DateTimeOffset Now(DataFolder data, TimeProvider time) =>
        FolderMarks.IsInvented(data.Folder) ? data.Results.LatestAsOf() ?? time.GetUtcNow() : time.GetUtcNow();

    /// <summary>The rounds of some trucks at an instant.</summary>
    /// <exception cref="CommandFailedException">The settings cannot be used.</exception>
    public static ImmutableArray<TruckRounds> Of(DataFolder data, DateTimeOffset now, Func<Truck, bool> wanted, CancellationToken cancellationToken)
    {
        var options = RoundSettings.Read(SettingsFile.Read(data.Folder));
        var findings = new FindingBook(data.Findings).Current().Where(f => f.Since <= now).ToList();
        return new RoundBook(data.Register, data.Runs, options).Read(findings, now, wanted, cancellationToken);
    }
}
