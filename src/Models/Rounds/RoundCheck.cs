using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Models.Findings;

namespace Vanehour.Models.Rounds;

/// <summary>A row of the table of rounds: one recurring check.</summary>
public sealed record RoundCheck
{
    /// <summary>Its key, as inlet_filter: in settings, in notes of marks, on the command line.</summary>
    public required string Key { get; init; }

    /// <summary>The round it belongs to.</summary>
    public required RoundKind Round { get; init; }

    /// <summary>Rarer rounds that hold it too: a mark of one of them counts for it.</summary>
    public required ImmutableArray<RoundKind> AlsoIn { get; init; }

    /// <summary>Calendar days from one time to the next; null where only hours count. A daily check comes with each day of work.</summary>
    public required int? Days { get; init; }

    /// <summary>PTO hours from one time to the next, h; null where only the calendar counts.</summary>
    public required double? Hours { get; init; }

    /// <summary>The drives that have what is checked; empty means every one.</summary>
    public required ImmutableArray<DriveKind> Drives { get; init; }

    /// <summary>Whether it is about the deodoriser.</summary>
    public required bool Deodoriser { get; init; }

    /// <summary>Whether some trucks lack what is checked and the register does not say which.</summary>
    public required bool WhereFitted { get; init; }

    /// <summary>The check in one line, as on the printed sheet.</summary>
    public required string Text { get; init; }

    /// <summary>How to do it and what to look for.</summary>
    public required string Instruction { get; init; }

    /// <summary>Names of the cautions that go with it, as in the knowledge table of findings.</summary>
    public required ImmutableArray<string> Cautions { get; init; }

    /// <summary>Kinds of service record that say it was done.</summary>
    public required ImmutableArray<ServiceKind> DoneBy { get; init; }

    /// <summary>Whether such a record also says that the crew keeps this check.</summary>
    public required bool KeptByRecords { get; init; }

    /// <summary>What in the data ticks it.</summary>
    public required ImmutableArray<RoundTick> TickedBy { get; init; }

    /// <summary>Open findings that ask for it now.</summary>
    public required ImmutableArray<FindingKind> PulledBy { get; init; }

    /// <summary>How urgent it is once overdue.</summary>
    public required Urgency Urgency { get; init; }

    /// <summary>Where the row comes from.</summary>
    public required string Source { get; init; }

    /// <summary>The cautions in full, in the words of the knowledge table.</summary>
    public IEnumerable<string> CautionTexts(Knowledge knowledge)
    {
        ArgumentNullException.ThrowIfNull(knowledge);
        return Cautions.Select(name => knowledge.Cautions[name]);
    }

    /// <summary>Whether a truck has what is checked; null where the register does not say.</summary>
    public bool? IsOn(Truck truck)
    {
        ArgumentNullException.ThrowIfNull(truck);
        bool? drive = Drives.IsEmpty ? true : truck.Drive is { } kind ? Drives.Contains(kind) : null;
        bool? deodoriser = Deodoriser ? truck.Deodoriser : true;
        bool? fitted = WhereFitted ? null : true;
        return drive & deodoriser & fitted;
    }
}
