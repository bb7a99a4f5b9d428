namespace Vanehour.Ingest.Payloads;

/// <summary>What <see cref="SenMLReader.Read"/> came upon.</summary>
public enum SenMLStep
{
    /// <summary>A record with a value or a sum; the reader's properties hold it, resolved.</summary>
    Record,

    /// <summary>A record with base fields only: it carries no measurement.</summary>
    BaseOnly,

    /// <summary>A record that breaks a rule; <see cref="SenMLReader.Fault"/> names it. Reading goes on with the next.</summary>
    BadRecord,

    /// <summary>The pack as a whole is refused; <see cref="SenMLReader.Fault"/> says why. What was read of it before must be thrown away.</summary>
    BadPack,

    /// <summary>The pack ended as it should.</summary>
    End,
}
