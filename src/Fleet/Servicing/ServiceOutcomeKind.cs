namespace Vanehour.Fleet.Servicing;

/// <summary>What became of a wish to add, edit or delete a service record.</summary>
public enum ServiceOutcomeKind
{
    /// <summary>It was done and stands in the history.</summary>
    Done,

    /// <summary>The register says so already; nothing was written.</summary>
    Unchanged,

    /// <summary>The record, or the truck's history with it, would make no sense.</summary>
    Refused,

    /// <summary>No record has that id.</summary>
    NotFound,

    /// <summary>More than one record's id begins like that.</summary>
    Ambiguous,
}
