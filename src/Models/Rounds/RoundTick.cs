namespace Vanehour.Models.Rounds;

/// <summary>What in a truck's own data shows that a check was made.</summary>
public enum RoundTick
{
    /// <summary>A recognised start-up check.</summary>
    StartUpCheck,
}
