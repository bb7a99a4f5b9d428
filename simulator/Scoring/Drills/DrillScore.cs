namespace Vanehour.Scoring.Drills;

/// <summary>What an answer is worth. The points are a convention of our own.</summary>
/// <param name="Answer">The answer.</param>
/// <param name="TruckPoints">0 or <see cref="DrillScorer.TruckPoints"/>.</param>
/// <param name="CausePoints">0, <see cref="DrillScorer.GroupPoints"/> or <see cref="DrillScorer.CausePoints"/>.</param>
/// <param name="ActionPoints">0, <see cref="DrillScorer.AcceptablePoints"/> or <see cref="DrillScorer.ActionPoints"/>.</param>
public sealed record DrillScore(DrillAnswer Answer, int TruckPoints, int CausePoints, int ActionPoints)
{
    /// <summary>All points together, 0 to 10.</summary>
    public int Total => TruckPoints + CausePoints + ActionPoints;
}
