namespace Vanehour.Scoring.Drills;

/// <summary>What became of an answer.</summary>
/// <param name="Answer">The answer as it is kept; null where it was refused.</param>
/// <param name="Sentence">What a person should know: that it is kept, or why not.</param>
public sealed record DrillSubmission(DrillAnswer? Answer, string Sentence)
{
    /// <summary>Whether it is kept.</summary>
    public bool Accepted => Answer is not null;
}
