using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using Vanehour.Host.Serving;

namespace Vanehour.Host.Tests;

public class PlainLinesTests
{
    [Fact]
    public void ALineIsInstantLevelAndSentence()
    {
        using var writer = new StringWriter { NewLine = "\n" };
        var entry = new LogEntry<string>(LogLevel.Warning, "Some.Type", default, "The disk\nis full.", null, (state, _) => state);

        new PlainLines(new Noon()).Write(entry, null, writer);

        Assert.Equal("2026-03-09T12:00:00Z warning: The disk | is full.\n", writer.ToString());
    }

    private sealed class Noon : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2026, 3, 9, 12, 0, 0, TimeSpan.Zero);
    }
}
