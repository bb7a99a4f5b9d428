namespace Vanehour.Host.Moving;

/// <summary>What to export.</summary>
/// <param name="Table">What.</param>
/// <param name="Trucks">Only of these; none means all.</param>
/// <param name="From">Only from this instant on: a sample's instant, a run's start, a finding's since.</param>
/// <param name="To">Only before this instant.</param>
internal sealed record ExportRequest(ExportTable Table, IReadOnlyList<string> Trucks, DateTimeOffset? From, DateTimeOffset? To)
{
    /// <summary>Whether an instant lies in what was asked for.</summary>
    public bool Holds(DateTimeOffset at) => (From is null || at >= From) && (To is null || at < To);

    /// <summary>Whether a truck is in what was asked for.</summary>
    public bool Holds(string? truck) => Trucks.Count == 0 || (truck is not null && Trucks.Contains(truck, StringComparer.Ordinal));
}
