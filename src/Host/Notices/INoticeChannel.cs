using Vanehour.Models.Findings;

namespace Vanehour.Host.Notices;

/// <summary>A way by which others are told of findings.</summary>
public interface INoticeChannel
{
    /// <summary>The channel's name, also of the file that remembers what was told.</summary>
    string Name { get; }

    /// <summary>What others know the finding by: of several open ones with one key the latest counts.</summary>
    string KeyOf(Finding finding);

    /// <summary>What of a finding is worth telling when it changes.</summary>
    string ContentOf(Finding finding);

    /// <summary>Tells; when it returns the receiver has it, or will never take it.</summary>
    /// <exception cref="NoticeFailedException">It could not be told now; it is tried again.</exception>
    Task SendAsync(Notice notice, CancellationToken cancellationToken);
}
