namespace Vanehour.Ingest.Payloads;

/// <summary>The labels of a SenML record as a set. [RFC8428] C. Jennings et al., Sensor Measurement Lists (SenML), RFC 8428 (2018), table 1.</summary>
[Flags]
internal enum SenMLLabels
{
    None = 0,
    BaseName = 1 << 0,
    BaseTime = 1 << 1,
    BaseUnit = 1 << 2,
    BaseValue = 1 << 3,
    BaseSum = 1 << 4,
    BaseVersion = 1 << 5,
    Name = 1 << 6,
    Unit = 1 << 7,
    Value = 1 << 8,
    StringValue = 1 << 9,
    BooleanValue = 1 << 10,
    DataValue = 1 << 11,
    Sum = 1 << 12,
    Time = 1 << 13,
    UpdateTime = 1 << 14,

    AnyBase = BaseName | BaseTime | BaseUnit | BaseValue | BaseSum | BaseVersion,
    AnyValue = Value | StringValue | BooleanValue | DataValue,
}
