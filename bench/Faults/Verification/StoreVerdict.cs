namespace Vanehour.Bench.Faults.Verification;

/// <summary>What a check of the stores against the ledger found. Counts are of samples (one truck, one instant).</summary>
internal sealed record StoreVerdict
{
    /// <summary>Samples of messages that the broker acknowledged.</summary>
    public required long Expected { get; init; }

    /// <summary>Different samples found.</summary>
    public required long Stored { get; init; }

    /// <summary>Expected and not found, or found without all their signals.</summary>
    public required long Lost { get; init; }

    /// <summary>Of those, samples that a worker had acknowledged: its own loss.</summary>
    public required long LostByWorker { get; init; }

    /// <summary>Messages that hold lost samples.</summary>
    public required long LostMessages { get; init; }

    /// <summary>Samples that nobody sent, or with a wrong value; also acknowledgements of messages that were never delivered.</summary>
    public required long Invented { get; init; }

    /// <summary>Rows beyond one for each key, by the stores' own counts.</summary>
    public required long Duplicated { get; init; }

    /// <summary>Samples found in more than one worker's store, with the same values.</summary>
    public required long InSeveralStores { get; init; }

    /// <summary>Messages and records refused.</summary>
    public required long Rejects { get; init; }

    /// <summary>What SQLite's own check says of the files where it is not "ok".</summary>
    public required IReadOnlyList<string> Damage { get; init; }

    /// <summary>Nothing missing, nothing extra.</summary>
    public bool IsExact => Lost == 0 && Invented == 0 && Duplicated == 0 && Rejects == 0 && Damage.Count == 0;
}
