namespace Vanehour.Host.Moving;

/// <summary>What can be written to a CSV file.</summary>
public enum ExportTable
{
    Samples,
    Runs,
    Wear,
    Findings,
    Trucks,
    Plan,
    Rounds,
}
