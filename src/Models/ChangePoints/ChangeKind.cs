namespace Vanehour.Models.ChangePoints;

/// <summary>How a row of values changed.</summary>
public enum ChangeKind
{
    /// <summary>From one value to the next: a leak, a blockage, a setting touched.</summary>
    Step,

    /// <summary>The slope is another from there on: something that grows.</summary>
    Drift,
}
