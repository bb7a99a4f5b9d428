namespace Vanehour.Models.Rounds;

/// <summary>Where marks of done rounds go.</summary>
public interface IRoundMarks
{
    /// <summary>Keeps a mark.</summary>
    /// <returns>Whether it was new or changed what was there.</returns>
    bool Add(RoundMark mark);
}
