namespace Vanehour.Scoring;

/// <summary>What was given cannot be scored; the message is for a person.</summary>
public sealed class EvaluationException : Exception
{
    public EvaluationException()
    {
    }

    public EvaluationException(string message)
        : base(message)
    {
    }

    public EvaluationException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
