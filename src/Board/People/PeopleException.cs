namespace Vanehour.Board.People;

/// <summary>Something about the people cannot be done; the message says what, in a sentence.</summary>
/// <param name="message">The sentence.</param>
/// <param name="inner">What lies behind it.</param>
public sealed class PeopleException(string message, Exception? inner = null) : Exception(message, inner);
