namespace Vanehour.Board.Desk;

/// <summary>The exercise of a training folder.</summary>
public interface ITrainingDesk
{
    /// <summary>The exercise as a trainee may see it.</summary>
    TrainingCase Case { get; }

    /// <summary>Hands in an answer.</summary>
    DeskAnswer Answer(string truck, string cause, string action, string? note, string by);

    /// <summary>Shows the truth, for good.</summary>
    DeskAnswer Reveal(string by);
}
