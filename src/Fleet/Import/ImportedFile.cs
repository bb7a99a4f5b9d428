using System.Collections.Immutable;

namespace Vanehour.Fleet.Import;

/// <summary>What became of one file.</summary>
/// <param name="Name">The file's name.</param>
/// <param name="Kind">What it was recognised as, or null.</param>
/// <param name="Rows">Rows read, without the header.</param>
/// <param name="Imported">Whether its good rows were imported.</param>
/// <param name="Changed">How many entries were added or changed.</param>
/// <param name="Problems">What was wrong, in order of line; with bad rows skipped, what was skipped.</param>
public sealed record ImportedFile(
    string Name, RegisterFileKind? Kind, int Rows, bool Imported, int Changed, ImmutableArray<CsvProblem> Problems)
{
    /// <summary>How many service records that were deleted, or corrected to another date, kind or meter, are back as the file has them.</summary>
    public int BroughtBack { get; init; }
}
