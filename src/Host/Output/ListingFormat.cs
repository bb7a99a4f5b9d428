namespace Vanehour.Host.Output;

/// <summary>How a listing is written.</summary>
public enum ListingFormat
{
    /// <summary>A table for people.</summary>
    Table,
    Json,
    Csv,
}
