using Vanehour.Board.Desk;
using Vanehour.Fleet.Register;
using Vanehour.Models.Planning;
using Vanehour.Models.Rounds;
using Vanehour.Reports;
using Vanehour.Store.Rejects;
using Vanehour.Store.Results;
using Vanehour.Store.Runs;
using Vanehour.Store.Telemetry;

namespace Vanehour.Board;

/// <summary>What the Board shows: the stores of one data folder, how people see quantities, and the desk that does what people ask for.</summary>
public sealed record BoardFleet
{
    /// <summary>The data folder.</summary>
    public required string Folder { get; init; }

    public required IFleetRegister Register { get; init; }

    public required IRunStore Runs { get; init; }

    public required IResultStore Results { get; init; }

    public required IFindingStore Findings { get; init; }

    public required IPlanStore Plans { get; init; }

    /// <summary>The samples; asked for only where they are needed, since their server's settings may not be usable.</summary>
    public required Func<ITelemetryStore> Samples { get; init; }

    public required IRejectLog Rejects { get; init; }

    public required PlanOptions PlanOptions { get; init; }

    public required RoundOptions RoundOptions { get; init; }

    public required DisplayUnits Units { get; init; }

    /// <summary>Whether those are the trade's units.</summary>
    public required bool IsTrade { get; init; }

    /// <summary>Whether the data come from a simulator.</summary>
    public bool Simulated { get; init; }

    /// <summary>The exercise in the folder; null where it is a fleet's.</summary>
    public ITrainingDesk? Training { get; init; }

    /// <summary>The clock that rounds are due by: a demonstration's stands where its data end.</summary>
    public required Func<DateTimeOffset> Now { get; init; }

    public required TimeProvider Time { get; init; }

    public required IFleetDesk Desk { get; init; }

    /// <summary>How the intake is doing; null where none was ever started on this folder.</summary>
    public required Func<FeedState?> Feed { get; init; }

    /// <summary>How pictures are drawn.</summary>
    public ReportOptions Drawing => new() { Units = Units, Simulated = Simulated, Training = Training is not null };
}
