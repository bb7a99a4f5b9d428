namespace Vanehour.Simulator;

/// <summary>Why publishing stopped.</summary>
public enum PublishFailure
{
    /// <summary>Nothing answered at the address, or the TLS handshake failed.</summary>
    Unreachable,

    /// <summary>The broker turned the connection down, for example for a wrong user or password.</summary>
    ConnectionRefused,

    /// <summary>The broker turned a message down, for example for want of the right to publish.</summary>
    MessageRefused,

    /// <summary>The connection broke off.</summary>
    ConnectionLost,

    /// <summary>The resume file belongs to another fleet or cannot be understood.</summary>
    ResumeRefused,
}
