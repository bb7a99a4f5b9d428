namespace Vanehour.Host.Moving;

/// <summary>The kinds of store that samples can be copied between. A further store is one more entry here.</summary>
internal static class StoreEnds
{
    private static readonly IStoreEndFactory[] All = [new SqliteStoreEnd(), new InfluxStoreEnd()];

    /// <summary>Finds a kind by its name on the command line.</summary>
    /// <exception cref="CommandFailedException">This program has no such store.</exception>
    public static IStoreEndFactory Find(string kind) =>
        Array.Find(All, f => f.Kind == kind)
        ?? throw new CommandFailedException($"This Vanehour cannot copy from or to a store of kind '{kind}'; it knows {string.Join(", ", All.Select(f => f.Kind))}.");
}
