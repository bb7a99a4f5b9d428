namespace Vanehour.Models.Rounds;

/// <summary>How often a recurring check comes round.</summary>
public enum RoundKind
{
    /// <summary>Every day the truck works.</summary>
    Daily,

    /// <summary>Every week, or sooner by PTO hours.</summary>
    Weekly,

    /// <summary>Every month, or sooner by PTO hours.</summary>
    Monthly,

    /// <summary>Every so many PTO hours; each check by itself.</summary>
    Hours,
}
