namespace Vanehour.Store.Influx;

/// <summary>A point that the server will not have.</summary>
/// <param name="Index">Which of those that were to be written.</param>
/// <param name="Line">Its line.</param>
/// <param name="Reason">What the server said.</param>
internal sealed record RefusedPoint(int Index, string Line, string Reason);
