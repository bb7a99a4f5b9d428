using Vanehour.Fleet;

namespace Vanehour.Store.Sqlite;

/// <summary>The statements over the sample table, whose signal columns are the signals' names. Parameter 1 is the truck's id, 2 the instant, 3 on the signals in order.</summary>
internal static class SampleSql
{
    /// <summary>The signal columns in the order of <see cref="Signal"/>.</summary>
    public static string Columns { get; } = string.Join(", ", SignalInfo.All.Select(s => s.Name));

    /// <summary>Adds a sample unless its key is there.</summary>
    public static string Insert { get; } =
        $"INSERT INTO sample(truck_id, at_ms, {Columns}) VALUES(?1, ?2, {Each((_, p) => p, ", ")}) ON CONFLICT DO NOTHING";

    /// <summary>Merges into the sample of the key; touches the row only where a signal that was sent differs, so that a redelivery counts as no change.</summary>
    public static string Update { get; } =
        $"UPDATE sample SET {Each((name, p) => $"{name}=coalesce({p}, {name})", ", ")} " +
        $"WHERE truck_id=?1 AND at_ms=?2 AND ({Each((name, p) => $"{name} IS NOT coalesce({p}, {name})", " OR ")})";

    /// <summary>A page of a truck's samples in order of time.</summary>
    public static string Page { get; } =
        $"SELECT at_ms, {Columns} FROM sample WHERE truck_id=(SELECT id FROM truck WHERE truck=$truck) " +
        "AND at_ms>=$from AND at_ms<$to ORDER BY at_ms LIMIT $limit";

    private static string Each(Func<string, string, string> piece, string separator) =>
        string.Join(separator, SignalInfo.All.Select((s, i) => piece(s.Name, $"?{i + 3}")));
}
