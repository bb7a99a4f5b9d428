namespace Vanehour.Scoring.Drills;

/// <summary>A drill cannot be used as was asked; the message is one sentence for a person.</summary>
public sealed class DrillRefusedException : Exception
{
    /// <inheritdoc/>
    public DrillRefusedException()
    {
    }

    /// <inheritdoc/>
    public DrillRefusedException(string message)
        : base(message)
    {
    }

    /// <inheritdoc/>
    public DrillRefusedException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
