using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Models.Results;
using Vanehour.Store.Results;

namespace Vanehour.Models.Findings;

/// <summary>Findings through their life: read and kept as documents, acknowledged and closed by people, carried on by analyses.</summary>
/// <param name="store">Where they are kept.</param>
public sealed class FindingBook(IFindingStore store)
{
    /// <summary>Every finding ever kept, in order of since, then id.</summary>
    public IReadOnlyList<Finding> All() => [.. store.Read().Select(ToFinding)];

    /// <summary>Open and acknowledged findings, most urgent first, then the oldest.</summary>
    public IReadOnlyList<Finding> Current() => Order(All());

    /// <summary>A person has seen it. Null where there is no such finding; a closed one stays closed.</summary>
    /// <param name="id">The finding.</param>
    /// <param name="by">Who.</param>
    public Finding? Acknowledge(string id, string by) => Change(id, f => f.Status == FindingStatus.Open
        ? f with { Status = FindingStatus.Acknowledged, Note = $"acknowledged by {by}" }
        : f);

    /// <summary>A person has dealt with it and says what it was. Only data from then on raises it again.</summary>
    /// <param name="id">The finding.</param>
    /// <param name="cause">What was really found.</param>
    /// <param name="by">Who.</param>
    /// <param name="at">When.</param>
    /// <returns>The finding as closed; null where there is none of that id.</returns>
    public Finding? Close(string id, Cause cause, string by, DateTimeOffset at) => Change(id, f => f with
    {
        Status = FindingStatus.Closed,
        Closed = at,
        CauseFound = cause,
        Note = $"closed by {by}",
    });

    /// <summary>Keeps findings, in one transaction.</summary>
    public void Save(IReadOnlyList<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        store.Save([.. findings.Select(ToDocument)]);
    }

    /// <summary>
    /// Keeps what an analysis changed, but passes over findings that a person marked while it ran: the next analysis carries those on.
    /// </summary>
    /// <param name="changed">What the analysis changed.</param>
    /// <param name="before">The findings as it read them.</param>
    public void SaveUnlessMarked(IReadOnlyList<Finding> changed, IReadOnlyList<Finding> before)
    {
        ArgumentNullException.ThrowIfNull(changed);
        ArgumentNullException.ThrowIfNull(before);
        var read = before.ToDictionary(f => f.Id, f => (f.Status, f.Note, f.CauseFound), StringComparer.Ordinal);
        var marked = All()
            .Where(f => read.TryGetValue(f.Id, out var then) && then != (f.Status, f.Note, f.CauseFound))
            .Select(f => f.Id)
            .ToHashSet(StringComparer.Ordinal);
        Save([.. changed.Where(f => !marked.Contains(f.Id))]);
    }

    /// <summary>A finding as a document.</summary>
    public static FindingDocument ToDocument(Finding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        return new FindingDocument(
            finding.Id,
            finding.Truck,
            finding.Kind.ToString(),
            finding.Status.ToString(),
            finding.Since.ToUnixTimeMilliseconds(),
            JsonSerializer.Serialize(finding, ModelsJson.Default.Finding));
    }

    /// <summary>A document as a finding.</summary>
    /// <exception cref="JsonException">The document is not a finding.</exception>
    public static Finding ToFinding(FindingDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return JsonSerializer.Deserialize(document.Json, ModelsJson.Default.Finding)
            ?? throw new JsonException($"Finding {document.Id} is empty.");
    }

    internal static IReadOnlyList<Finding> Order(IEnumerable<Finding> findings) =>
    [
        .. findings.Where(f => f.Status != FindingStatus.Closed)
            .OrderBy(f => f.Urgency)
            .ThenBy(f => f.Since)
            .ThenBy(f => f.Id, StringComparer.Ordinal),
    ];

    private Finding? Change(string id, Func<Finding, Finding> change)
    {
        var before = All().FirstOrDefault(f => f.Id == id);
        if (before is null)
        {
            return null;
        }

        var after = change(before);
        if (after != before)
        {
            Save([after]);
        }

        return after;
    }
}
