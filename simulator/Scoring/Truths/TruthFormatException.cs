namespace Vanehour.Scoring;

/// <summary>A truth file is not what it should be; the message is for a person.</summary>
public sealed class TruthFormatException(string message, Exception inner) : Exception(message, inner);
