namespace Vanehour.Fleet.Import;

/// <summary>What reading on in a sample file came to.</summary>
public enum SampleCsvStep
{
    /// <summary>The file is at its end.</summary>
    End,

    /// <summary>A row with a sample.</summary>
    Sample,

    /// <summary>A row that names truck and instant and has no value.</summary>
    Empty,

    /// <summary>A row with something wrong, which has been reported.</summary>
    Bad,

    /// <summary>The text cannot be read on from here, which has been reported.</summary>
    Broken,
}
