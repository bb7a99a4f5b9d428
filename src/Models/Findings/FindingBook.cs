using System.Text.Json;
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
    /// <param name="by">Who; null where it is not said.</param>
    /// <param name="note">What else there is to say; null keeps the note there is.</param>
    public Finding? Acknowledge(string id, string? by, string? note = null) => Change(id, f => f.Acknowledged(by, note));

    /// <summary>A person has dealt with it and says what it was. Only data from then on raises it again. One with a verdict stays as it is.</summary>
    /// <param name="id">The finding.</param>
    /// <param name="verdict">What was really found.</param>
    /// <param name="at">When.</param>
    /// <returns>The finding as closed; null where there is none of that id.</returns>
    public Finding? Close(string id, Verdict verdict, DateTimeOffset at) => Change(id, f => f.Closed(verdict, at));

    /// <summary>The findings whose ids begin so; the very id counts alone.</summary>
    public IReadOnlyList<Finding> Find(string prefix)
    {
        ArgumentException.ThrowIfNullOrEmpty(prefix);
        var found = All().Where(f => f.Id.StartsWith(prefix, StringComparison.OrdinalIgnoreCase)).ToList();
        return found.Find(f => string.Equals(f.Id, prefix, StringComparison.OrdinalIgnoreCase)) is { } exact ? [exact] : found;
    }

    /// <summary>Reads, decides and keeps in one transaction; the deciding must be quick.</summary>
    /// <param name="change">Given every finding; returns those to add or replace.</param>
    public void Update(Func<IReadOnlyList<Finding>, IEnumerable<Finding>> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        store.Update(documents => [.. change([.. documents.Select(ToFinding)]).Select(ToDocument)]);
    }

    /// <summary>Keeps findings, in one transaction.</summary>
    public void Save(IReadOnlyList<Finding> findings)
    {
        ArgumentNullException.ThrowIfNull(findings);
        store.Save([.. findings.Select(ToDocument)]);
    }

    /// <summary>
    /// Keeps what an analysis changed, but passes over findings that a person or the watch of new samples changed while it ran, and over new ones of a kind
    /// that the watch opened on the same pump meanwhile: the next analysis carries those on.
    /// </summary>
    /// <param name="changed">What the analysis changed.</param>
    /// <param name="before">The findings as it read them.</param>
    public void SaveUnlessMarked(IReadOnlyList<Finding> changed, IReadOnlyList<Finding> before)
    {
        ArgumentNullException.ThrowIfNull(changed);
        ArgumentNullException.ThrowIfNull(before);

        // As texts: records that hold arrays are equal only where the arrays are the same objects.
        var read = before.ToDictionary(f => f.Id, f => ToDocument(f).Json, StringComparer.Ordinal);
        Update(now =>
        {
            var touched = now.Where(f => !read.TryGetValue(f.Id, out var then) || then != ToDocument(f).Json).ToList();
            var ids = touched.Select(f => f.Id).ToHashSet(StringComparer.Ordinal);
            var opened = touched.Where(f => f.Status != FindingStatus.Closed).Select(Subject).ToHashSet();
            return changed.Where(f => !ids.Contains(f.Id) && (read.ContainsKey(f.Id) || !opened.Contains(Subject(f))));
        });
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

    private static (FindingKind Kind, string? Truck, string? Pump) Subject(Finding finding) => (finding.Kind, finding.Truck, finding.PumpSerial);

    private Finding? Change(string id, Func<Finding, Finding> change)
    {
        Finding? after = null;
        Update(all =>
        {
            if (all.FirstOrDefault(f => f.Id == id) is not { } before)
            {
                return [];
            }

            after = change(before);
            return ReferenceEquals(after, before) ? [] : [after];
        });
        return after;
    }
}
