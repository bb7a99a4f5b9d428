namespace Vanehour.Store.Results;

/// <summary>Lets one analysis at a time work on a fleet.</summary>
public interface IAnalysisLease
{
    /// <summary>Takes the lease, or says who has it. The lease runs out by itself so that a killed holder blocks nobody for long.</summary>
    /// <param name="holder">Who asks, for people to read.</param>
    /// <param name="duration">For how long; renew before it ends by taking it again.</param>
    /// <param name="currentHolder">Who has it now.</param>
    bool TryTake(string holder, TimeSpan duration, out string currentHolder);

    /// <summary>Gives the lease back if <paramref name="holder"/> has it.</summary>
    void Release(string holder);
}
