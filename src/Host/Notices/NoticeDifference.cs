using System.Security.Cryptography;
using System.Text;
using Vanehour.Models.Findings;

namespace Vanehour.Host.Notices;

/// <summary>What there is to tell: the difference between the findings as they stand and what was last told.</summary>
/// <remarks>
/// It tells of states, not of a log: while a receiver is away changes come together in one notice, and what opened and closed meanwhile is not told at all.
/// A key's closing comes before another's opening.
/// </remarks>
public static class NoticeDifference
{
    // Of a digest only as much as keeps chance away.
    private const int MarkDigits = 16;

    /// <summary>The notices due, in the order in which to tell them.</summary>
    /// <param name="findings">Every finding, in order of since.</param>
    /// <param name="published">What was told.</param>
    /// <param name="channel">To whom.</param>
    public static IReadOnlyList<Notice> Of(
        IReadOnlyList<Finding> findings, IReadOnlyDictionary<string, PublishedNotice> published, INoticeChannel channel)
    {
        ArgumentNullException.ThrowIfNull(findings);
        ArgumentNullException.ThrowIfNull(published);
        ArgumentNullException.ThrowIfNull(channel);
        var open = findings.Where(f => f.Status != FindingStatus.Closed)
            .GroupBy(channel.KeyOf, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Last(), StringComparer.Ordinal);
        var byId = findings.ToDictionary(f => f.Id, StringComparer.Ordinal);
        var notices = new List<Notice>();
        foreach (var (key, told) in published.OrderBy(p => p.Key, StringComparer.Ordinal))
        {
            if (!open.ContainsKey(key))
            {
                notices.Add(new Notice(NoticeEvent.Closed, key, byId.GetValueOrDefault(told.Id)));
            }
        }

        foreach (var (key, finding) in open)
        {
            if (!published.TryGetValue(key, out var told))
            {
                notices.Add(new Notice(NoticeEvent.Opened, key, finding));
            }
            else if (told.Mark != MarkOf(finding, channel))
            {
                notices.Add(new Notice(NoticeEvent.Changed, key, finding));
            }
        }

        return notices;
    }

    /// <summary>What to remember of a finding that was told.</summary>
    public static string MarkOf(Finding finding, INoticeChannel channel)
    {
        ArgumentNullException.ThrowIfNull(channel);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(channel.ContentOf(finding))))[..MarkDigits];
    }
}
