namespace Vanehour.Host;

/// <summary>What the process returns.</summary>
public static class ExitCode
{
    /// <summary>Done.</summary>
    public const int Done = 0;

    /// <summary>The job could not be done; one sentence on standard error says why.</summary>
    public const int Failed = 1;

    /// <summary>The command line was wrong.</summary>
    public const int WrongUsage = 2;
}
