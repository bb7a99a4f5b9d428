namespace Vanehour.Reports.Time;

/// <summary>How runs are summed for drawing.</summary>
internal enum BinKind
{
    Day,

    /// <summary>From Monday.</summary>
    Week,
    Month,
}
