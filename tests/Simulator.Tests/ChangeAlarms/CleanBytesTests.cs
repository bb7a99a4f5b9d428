using System.Security.Cryptography;

namespace Vanehour.Simulator.Tests.ChangeAlarms;

/// <summary>Golden output of our own code: it proves nothing right, it only says that the demonstration's bytes have changed.</summary>
public class CleanBytesTests
{
    [Fact]
    public void WithoutDirt_TheBytesAreThoseFromBeforeThereWasDirt()
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var message in Fleets.Month.Value.Messages())
        {
            Assert.Equal(message.LastUnixMs, message.SentUnixMs);
            hash.AppendData(message.Payload.Span);
        }

        Assert.Equal("6763AF7A3C2E048B8010B8527E47D4D015BF35D2A437A99A10B0DAF5089E58BA", Convert.ToHexString(hash.GetHashAndReset()));
    }
}
