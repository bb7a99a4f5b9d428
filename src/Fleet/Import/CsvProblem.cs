namespace Vanehour.Fleet.Import;

/// <summary>Why a row or a file was refused.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Line">The line the row starts on, counted from 1 (the header is line 1 unless quoted line breaks precede).</param>
/// <param name="Column">The column's name, or null where the whole row is meant.</param>
/// <param name="Reason">One plain sentence.</param>
public sealed record CsvProblem(string File, int Line, string? Column, string Reason)
{
    /// <inheritdoc/>
    public override string ToString() =>
        Column is null ? $"{File}, line {Line}: {Reason}" : $"{File}, line {Line}, column {Column}: {Reason}";
}
