namespace Vanehour.Board.Desk;

/// <summary>What kind of file a listing becomes.</summary>
public enum DeskFormat
{
    /// <summary>JSON, as the command line's --json writes it.</summary>
    Json,

    /// <summary>CSV, as the command line's --csv writes it.</summary>
    Csv,

    /// <summary>iCalendar; only of the plan and the rounds.</summary>
    Calendar,
}
