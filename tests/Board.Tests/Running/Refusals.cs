using Microsoft.Data.Sqlite;
using Vanehour.Host.Composition;
using Vanehour.Store.Rejects;

namespace Vanehour.Board.Tests.Running;

/// <summary>Messages that an intake refused, of the kind that strangers may send.</summary>
internal static class Refusals
{
    /// <summary>A payload that would be a script if a page took it for HTML.</summary>
    public const string Payload = "[{\"n\":\"vacuum\",\"u\":\"</code><script>alert(1)</script>\",\"v\":61}]";

    /// <summary>Puts them into a data folder.</summary>
    public static async Task AddAsync(string folder)
    {
        using (var data = DataFolder.Open(folder))
        {
            var at = new DateTimeOffset(2026, 3, 9, 7, 30, 0, TimeSpan.Zero).ToUnixTimeMilliseconds();
            await data.Rejects.AddAsync(
            [
                new Reject("fleet/T01/pump", at, RejectReason.WrongUnit, "record 0 (vacuum): the unit does not fit", System.Text.Encoding.UTF8.GetBytes(Payload)),
                new Reject("fleet/<img src=x onerror=alert(2)>/pump", at + 1, RejectReason.UnknownTopic, "the topic names no truck \u202Egnp.exe", new byte[] { 0xff, 0xfe, 0x00, 0x3c }),
            ],
            CancellationToken.None);
        }

        SqliteConnection.ClearAllPools();
    }
}
