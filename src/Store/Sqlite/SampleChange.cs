namespace Vanehour.Store.Sqlite;

/// <summary>What putting a sample did.</summary>
internal enum SampleChange
{
    /// <summary>Nothing: what it says was known.</summary>
    None,

    /// <summary>It is new.</summary>
    Added,

    /// <summary>The sample of its key has another value now.</summary>
    Changed,
}
