namespace Vanehour.Board.Desk;

/// <summary>An exercise as a trainee may see it.</summary>
/// <param name="Title">Its title, which does not give the cause away.</param>
/// <param name="Difficulty">From 1, easy, to 3, hard.</param>
/// <param name="Complaint">What the driver complained of.</param>
/// <param name="Truck">The truck that the driver named; null where none was.</param>
/// <param name="Actions">The actions to choose from, by name and in words.</param>
/// <param name="Answers">Who has answered, and once revealed with how many points.</param>
/// <param name="Revealed">What was revealed, paragraph by paragraph; empty until then.</param>
public sealed record TrainingCase(
    string Title,
    int Difficulty,
    string Complaint,
    string? Truck,
    IReadOnlyList<(string Name, string Words)> Actions,
    IReadOnlyList<(string By, string Said)> Answers,
    IReadOnlyList<string> Revealed);
