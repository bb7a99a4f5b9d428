namespace Vanehour.Board.Desk;

/// <summary>Something that somebody asks the Board to do. Texts are as people typed them; the desk checks them.</summary>
public abstract record DeskDeed
{
    private DeskDeed()
    {
    }

    /// <summary>Adds a service record.</summary>
    public sealed record Record(string Truck, string Kind, string? Meter, string? Date, string? Value, string? Unit, string? PumpSerial, string? PumpModel, string? Note) : DeskDeed;

    /// <summary>Deletes a service record.</summary>
    public sealed record DeleteRecord(string Id, string? Why) : DeskDeed;

    /// <summary>Says that a finding was seen.</summary>
    public sealed record Acknowledge(string Id, string? Note) : DeskDeed;

    /// <summary>Closes a finding with what was found.</summary>
    public sealed record Close(string Id, string Cause, string? Note) : DeskDeed;

    /// <summary>Pins a rebuild to a week.</summary>
    public sealed record Pin(string Truck, string Week, string? Note) : DeskDeed;

    /// <summary>Takes a pin off.</summary>
    public sealed record Unpin(string Truck) : DeskDeed;

    /// <summary>Keeps weeks free of rebuilds.</summary>
    public sealed record Block(string From, string? To, string? Yard, string? Truck, string? Note) : DeskDeed;

    /// <summary>Takes a block off.</summary>
    public sealed record Unblock(string Id) : DeskDeed;

    /// <summary>Marks a round, or a check of it, as done.</summary>
    public sealed record Round(string Truck, string What, string? Meter, string? Note) : DeskDeed;
}
