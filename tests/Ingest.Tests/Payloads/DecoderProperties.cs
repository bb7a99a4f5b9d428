using System.Text;
using FsCheck;
using FsCheck.Xunit;
using Vanehour.Fleet;
using Vanehour.Ingest.Payloads;

namespace Vanehour.Ingest.Tests.Payloads;

public class DecoderProperties
{
    private const long ArrivedMs = 1_767_340_900_000;

    private static readonly byte[] Valid = Encoding.UTF8.GetBytes("""
        [{"bn":"T07/","bt":1767340800.5,"bver":10,"bu":"kPa","bv":0.5,"n":"pto_hours","u":"h","v":4312.41,"ut":60},
         {"n":"pto","vb":true,"x":{"y":[1,2,"\u0041"]}},{"n":"vacuum","u":"inHg","v":16.2,"s":1},{"n":"l\u0061bel","vs":"M\"x"},
         {"n":"data","vd":"aGk"},{"bt":-3,"bn":"","n":"T07/pressure","t":1767340802,"v":1e2}]
        """);

    [Property(MaxTest = 2000)]
    public bool RandomBytes_NeverThrow(byte[] payload) => IsSound(payload ?? []);

    [Property(MaxTest = 2000)]
    public bool RandomTextInsideARecord_NeverThrows(string text) => IsSound(Encoding.UTF8.GetBytes($"[{{\"n\":\"vacuum\",{text}}}]"));

    [Property(MaxTest = 5000)]
    public bool MutatedPacks_NeverThrow(int seed)
    {
        var random = new System.Random(seed);
        var payload = Valid.ToList();
        for (var i = random.Next(1, 8); i > 0; i--)
        {
            var at = random.Next(payload.Count);
            switch (random.Next(4))
            {
                case 0:
                    payload[at] = (byte)random.Next(256);
                    break;
                case 1:
                    payload.RemoveAt(at);
                    break;
                case 2:
                    payload.Insert(at, Valid[random.Next(Valid.Length)]);
                    break;
                default:
                    payload.RemoveRange(at, Math.Min(random.Next(40), payload.Count - at));
                    payload.Add((byte)']');
                    break;
            }
        }

        return IsSound([.. payload]);
    }

    [Property(MaxTest = 500)]
    public bool Samples_SurviveTheRoundTrip_InAnyOrder(int seed)
    {
        var samples = Samples(new System.Random(seed));
        var back = Decode(SenMLWriter.Write("T07", samples), out var rejects);
        var shuffled = samples.ToArray();
        new System.Random(seed).Shuffle(shuffled);
        var backShuffled = Decode(SenMLWriter.Write("T07", shuffled), out _);
        return rejects.Rejects.Count == 0
            && back.SequenceEqual(samples)
            && backShuffled.OrderBy(s => s.UnixMs).SequenceEqual(samples);
    }

    // Distinct instants in order, each with at least one signal; values within range.
    private static List<Sample> Samples(System.Random random)
    {
        var samples = new List<Sample>();
        var ms = ArrivedMs - 1_000_000;
        for (var i = random.Next(1, 30); i > 0; i--)
        {
            var values = SignalValues.Empty;
            foreach (var info in SignalInfo.All)
            {
                if (random.Next(2) == 0)
                {
                    values.Set(info.Signal, info.Signal == Signal.Pto ? random.Next(2) : info.Lowest + (random.NextDouble() * (info.Highest - info.Lowest)));
                }
            }

            if (values.IsEmpty)
            {
                values.Set(Signal.Pto, 1);
            }

            ms += random.Next(1, 5000);
            samples.Add(new Sample("T07", ms, values));
        }

        return samples;
    }

    // Never throws, never lets a value through that is not finite and in range, and accounts for every record.
    private static bool IsSound(byte[] payload)
    {
        var samples = Decode(payload, out var rejects);
        var pack = SenMLResolver.Resolve(payload, ArrivedMs / 1000m);
        var inRange = samples.All(s => s.Truck == "T07" && !s.Values.IsEmpty && SignalInfo.All.All(
            i => s[i.Signal] is not { } v || (v >= i.Lowest && v <= i.Highest)));
        return inRange && (samples.Count > 0 || rejects.Rejects.Count > 0 || pack.BaseOnly > 0) && (pack.Refusal is null || samples.Count == 0);
    }

    private static List<Sample> Decode(byte[] payload, out RejectSheet rejects)
    {
        var samples = new List<Sample>();
        rejects = new RejectSheet();
        rejects.Open("fleet/T07/pump", ArrivedMs, payload);
        new SampleDecoder(SignalNames.Default, new DecodeLimits()).Decode("T07", payload, ArrivedMs, samples, rejects);
        return samples;
    }
}
