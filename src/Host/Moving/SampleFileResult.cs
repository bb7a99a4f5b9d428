namespace Vanehour.Host.Moving;

/// <summary>What became of a sample file.</summary>
/// <param name="Imported">Whether its good rows were stored.</param>
/// <param name="Rows">Rows read, without the header.</param>
/// <param name="BadRows">Rows with something wrong.</param>
/// <param name="EmptyRows">Rows that name truck and instant and have no value.</param>
/// <param name="Added">Samples whose truck and instant were new; null where the store cannot tell.</param>
/// <param name="Changed">Samples that were there and have another value now; null where the store cannot tell.</param>
/// <param name="Trucks">The trucks in it.</param>
internal sealed record SampleFileResult(
    bool Imported, long Rows, long BadRows, long EmptyRows, long? Added, long? Changed, IReadOnlyCollection<string> Trucks)
{
    /// <summary>Rows with a sample.</summary>
    public long Samples => Rows - BadRows - EmptyRows;
}
