using Vanehour.Board.Reading;

namespace Vanehour.Board.Desk;

/// <summary>Does what people ask of the Board, the same way as the command line does.</summary>
public interface IFleetDesk
{
    /// <summary>A listing as people read it: its tables, and the sentences around them.</summary>
    Task<DeskListing> ListAsync(DeskQuery query, CancellationToken cancellationToken);

    /// <summary>A listing as a file for programs.</summary>
    Task<DeskFile> ExportAsync(DeskQuery query, DeskFormat format, CancellationToken cancellationToken);

    /// <summary>Does something, signed with who asked for it.</summary>
    Task<DeskAnswer> DoAsync(DeskDeed deed, string by, CancellationToken cancellationToken);

    /// <summary>Asks for a new analysis soon; one that is at work is followed by another.</summary>
    void AskForAnalysis();

    /// <summary>Whether an analysis that was asked for is waiting or at work.</summary>
    bool IsAnalysing { get; }

    /// <summary>What the last analysis that was asked for failed with; null where it did not.</summary>
    string? AnalysisProblem { get; }

    /// <summary>The comparison of pump models; null where there is none, or while it is being worked out.</summary>
    Task<DrawnChart?> ComparisonAsync(CancellationToken cancellationToken);

    /// <summary>The comparison as PNG; null where there is none.</summary>
    Task<byte[]?> ComparisonPngAsync(CancellationToken cancellationToken);
}
