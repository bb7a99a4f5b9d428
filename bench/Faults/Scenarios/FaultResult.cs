using Vanehour.Bench.Faults.Verification;

namespace Vanehour.Bench.Faults.Scenarios;

/// <summary>One line of the table: a kind of fault, how often it struck, and what the check found.</summary>
internal sealed record FaultResult
{
    public required string Fault { get; init; }

    public required int Times { get; init; }

    /// <summary>Different messages that the broker acknowledged to the publisher.</summary>
    public required long Acknowledged { get; init; }

    /// <summary>Null where the fault could not be tried here.</summary>
    public required StoreVerdict? Verdict { get; init; }

    public required TimeSpan Took { get; init; }

    /// <summary>Whether a broker killed without warning may have lost what it had acknowledged and not saved.</summary>
    public bool BrokerMayLose { get; init; }

    /// <summary>Messages and records that had to be refused, so that they are no failure.</summary>
    public long RightlyRefused { get; init; }

    /// <summary>Times the broker told the publisher that nobody subscribes: it does not take such messages.</summary>
    public required long Unsubscribed { get; init; }

    /// <summary>What else was seen, one sentence each.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>What should have been and was not, besides the counts; empty when all was well.</summary>
    public IReadOnlyList<string> Failures { get; init; } = [];

    /// <summary>Samples lost that are the worker's loss; where the broker cannot have lost any, all of them are.</summary>
    public long LostByWorker => Verdict is null ? 0 : BrokerMayLose ? Verdict.LostByWorker : Verdict.Lost;

    /// <summary>Samples that a killed broker had acknowledged and never delivered.</summary>
    public long LostByBroker => Verdict is null ? 0 : Verdict.Lost - LostByWorker;

    public long DuplicatedOrInvented => Verdict is null ? 0 : Verdict.Duplicated + Verdict.Invented;

    public long WronglyRefused => Verdict is null ? 0 : Math.Abs(Verdict.Rejects - RightlyRefused);

    public bool IsGood => LostByWorker == 0 && DuplicatedOrInvented == 0 && WronglyRefused == 0 && Failures.Count == 0 && Verdict is not { Damage.Count: > 0 };

    /// <summary>The line of a stage that has been finished and checked.</summary>
    public static FaultResult Of(FaultStage stage, string fault, int times, StoreVerdict verdict) => new()
    {
        Fault = fault,
        Times = times,
        Acknowledged = stage.Ledger.BrokerTookMessages,
        Unsubscribed = stage.Ledger.Unsubscribed,
        Verdict = verdict,
        Took = stage.Clock.Elapsed,
    };

    /// <summary>The line of a fault that could not be tried.</summary>
    public static FaultResult Skipped(string fault, string reason) => new()
    {
        Fault = fault,
        Times = 0,
        Acknowledged = 0,
        Unsubscribed = 0,
        Verdict = null,
        Took = TimeSpan.Zero,
        Notes = ["Not tried: " + reason],
    };
}
