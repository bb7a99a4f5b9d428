namespace Vanehour.Models.Expectations;

/// <summary>Whether there was a choice.</summary>
public enum ChoiceStatus
{
    /// <summary>The candidates were compared.</summary>
    Compared,

    /// <summary>Too few trucks, or too few whose own level could be read; least squares without comparison.</summary>
    TooFewTrucks,

    /// <summary>Too few runs; least squares without comparison.</summary>
    TooFewRuns,

    /// <summary>Taken over from an earlier comparison.</summary>
    Taken,

    /// <summary>Switched off by a setting; least squares without comparison.</summary>
    SwitchedOff,
}
