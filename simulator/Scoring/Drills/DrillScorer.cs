namespace Vanehour.Scoring.Drills;

/// <summary>Holds answers against the truth.</summary>
public static class DrillScorer
{
    /// <summary>Points for the right truck.</summary>
    public const int TruckPoints = 3;

    /// <summary>Points for the right cause.</summary>
    public const int CausePoints = 5;

    /// <summary>Points for another cause in the same part of the machine.</summary>
    public const int GroupPoints = 2;

    /// <summary>Points for an action that is right.</summary>
    public const int ActionPoints = 2;

    /// <summary>Points for an action that will do.</summary>
    public const int AcceptablePoints = 1;

    /// <summary>The rule in words.</summary>
    public static string Rule =>
        $"{TruckPoints} points for the truck; {CausePoints} for the cause, or {GroupPoints} for another cause in the same part of the machine; {ActionPoints} for a right action, "
        + $"or {AcceptablePoints} for one that will do; cause and action count on the right truck only; {TruckPoints + CausePoints + ActionPoints} in all. The points are an invented convention.";

    /// <summary>The score of one answer.</summary>
    /// <param name="truth">What is really wrong.</param>
    /// <param name="answer">The answer.</param>
    public static DrillScore Of(DrillTruth truth, DrillAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(truth);
        ArgumentNullException.ThrowIfNull(answer);
        if (!string.Equals(answer.Truck, truth.Truck, StringComparison.Ordinal))
        {
            return new DrillScore(answer, 0, 0, 0);
        }

        var cause = answer.Cause == truth.Cause ? CausePoints
            : answer.Cause is { } said && truth.Cause is { } real && DrillCases.Default.SameGroup(said, real) ? GroupPoints : 0;
        var action = truth.RightActions.Contains(answer.Action) ? ActionPoints : truth.AcceptableActions.Contains(answer.Action) ? AcceptablePoints : 0;
        return new DrillScore(answer, TruckPoints, cause, action);
    }
}
