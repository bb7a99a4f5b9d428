using System.Text.Json;
using Vanehour.Ingest.Payloads;

namespace Vanehour.Published.SenML;

/// <summary>The examples of RFC 8428, resolved; see SOURCE.md.</summary>
public class SenMLExamplesTests
{
    private static readonly JsonElement[] Examples = Load();

    public static TheoryData<int> Ids => [.. Examples.Select(e => e.GetProperty("id").GetInt32())];

    [Fact]
    public void AllExamples_AreHere() => Assert.Equal(Enumerable.Range(1, 13), Examples.Select(e => e.GetProperty("id").GetInt32()));

    [Theory]
    [MemberData(nameof(Ids))]
    public void Example_ResolvesAsInRfc8428(int id)
    {
        var example = Examples.Single(e => e.GetProperty("id").GetInt32() == id);

        // Packs without a time were resolved by the authors at a moment the file gives; for the others any will do.
        var now = example.TryGetProperty("now", out var n) ? n.GetDecimal() : 2_000_000_000m;
        var pack = SenMLResolver.Resolve(JsonSerializer.SerializeToUtf8Bytes(example.GetProperty("pack")), now);

        Assert.Null(pack.Refusal);
        Assert.Empty(pack.Faults);
        var expected = example.GetProperty("resolved").EnumerateArray().Select(ToRecord).ToList();
        if (id == 7)
        {
            // The working group's tool dropped the record with vd; its note says what a complete resolver keeps.
            expected.Add(new SenMLRecord(
                "urn:dev:ow:10e2073a01080063:nfv-reader", null, now, SenMLValueKind.Data, null, "aGkgCg", null, null, null));
        }

        Assert.Equal(expected.OrderBy(r => r.TimeS), pack.Records);
    }

    [Fact]
    public void Example9_HasABaseOnlyRecord()
    {
        var example = Examples.Single(e => e.GetProperty("id").GetInt32() == 9);

        Assert.Equal(1, SenMLResolver.Resolve(JsonSerializer.SerializeToUtf8Bytes(example.GetProperty("pack")), 0).BaseOnly);
    }

    [Fact]
    public void Example3_KeepsItsVersion()
    {
        var example = Examples.Single(e => e.GetProperty("id").GetInt32() == 3);

        Assert.Equal(5, SenMLResolver.Resolve(JsonSerializer.SerializeToUtf8Bytes(example.GetProperty("pack")), 0).Version);
    }

    private static SenMLRecord ToRecord(JsonElement r)
    {
        var number = r.TryGetProperty("v", out var v) ? v.GetDouble() : (double?)null;
        var text = r.TryGetProperty("vs", out var vs) ? vs.GetString() : null;
        var flag = r.TryGetProperty("vb", out var vb) ? vb.GetBoolean() : (bool?)null;
        return new SenMLRecord(
            r.GetProperty("n").GetString()!,
            r.TryGetProperty("u", out var u) ? u.GetString() : null,
            r.GetProperty("t").GetDecimal(),
            number is not null ? SenMLValueKind.Number : text is not null ? SenMLValueKind.Text : SenMLValueKind.Flag,
            number,
            text,
            flag,
            null,
            null);
    }

    private static JsonElement[] Load()
    {
        using var stream = typeof(SenMLExamplesTests).Assembly.GetManifestResourceStream("SenML/examples")!;
        using var document = JsonDocument.Parse(stream);
        return [.. document.RootElement.Clone().EnumerateArray()];
    }
}
