using System.Text;

namespace Vanehour.Ingest.Payloads;

/// <summary>Resolves a whole pack into records. For the feed itself <see cref="SenMLReader"/> does the same without allocating.</summary>
public static class SenMLResolver
{
    /// <summary>Resolves <paramref name="payload"/>. Any bytes are allowed: what is wrong with them is in the result.</summary>
    /// <param name="payload">A SenML pack as UTF-8 JSON.</param>
    /// <param name="arrivalS">Unix seconds of arrival, to which relative times refer.</param>
    /// <param name="maxRecords">More records than this refuse the pack.</param>
    public static SenMLPack Resolve(ReadOnlySpan<byte> payload, decimal arrivalS, int maxRecords = SenMLReader.DefaultMaxRecords)
    {
        var records = new List<SenMLRecord>();
        var faults = new List<SenMLFault>();
        var baseOnly = 0;
        var reader = new SenMLReader(payload, arrivalS, maxRecords);
        while (true)
        {
            switch (reader.Read())
            {
                case SenMLStep.Record:
                    records.Add(Copy(ref reader));
                    break;
                case SenMLStep.BaseOnly:
                    baseOnly++;
                    break;
                case SenMLStep.BadRecord:
                    faults.Add(reader.Fault);
                    break;
                case SenMLStep.BadPack:
                    return new SenMLPack([], faults, baseOnly, reader.Version, reader.Fault);
                default:
                    // OrderBy is stable, which keeps the pack's order within one time.
                    return new SenMLPack([.. records.OrderBy(r => r.TimeS)], faults, baseOnly, reader.Version, null);
            }
        }
    }

    private static SenMLRecord Copy(ref SenMLReader reader)
    {
        var kind = reader.Kind;
        return new SenMLRecord(
            Encoding.UTF8.GetString(reader.Name),
            reader.HasUnit ? Encoding.UTF8.GetString(reader.Unit) : null,
            reader.TimeS,
            kind,
            kind == SenMLValueKind.Number ? reader.Number : null,
            kind is SenMLValueKind.Text or SenMLValueKind.Data ? Encoding.UTF8.GetString(reader.Text) : null,
            kind == SenMLValueKind.Flag ? reader.Flag : null,
            reader.Sum,
            reader.UpdateTimeS);
    }
}
