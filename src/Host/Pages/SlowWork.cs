namespace Vanehour.Host.Pages;

/// <summary>
/// Something that takes long for a big fleet: it is worked out once for a state of the data, in the background where it takes longer than somebody likes to wait, and
/// kept until the data change.
/// </summary>
/// <typeparam name="T">What is worked out.</typeparam>
/// <param name="isGood">Whether it is worth keeping; else the next to ask has it tried again.</param>
internal sealed class SlowWork<T>(Func<T, bool> isGood)
{
    private readonly Lock gate = new();
    private string? key;
    private Task<T>? work;

    /// <summary>What was worked out for a state of the data; default while it is still being worked out.</summary>
    /// <param name="state">The state.</param>
    /// <param name="make">Works it out.</param>
    /// <param name="patience">How long to wait for it.</param>
    /// <param name="cancellationToken">Ends the waiting, not the work: the next to ask finds it done.</param>
    public async Task<(bool IsDone, T? Value)> GetAsync(string state, Func<Task<T>> make, TimeSpan patience, CancellationToken cancellationToken)
    {
        Task<T> asked;
        lock (gate)
        {
            // What is at work is let finish: an answer a little old is better than work begun again with each commit.
            if (work is null || (work.IsCompleted && (key != state || !work.IsCompletedSuccessfully || !isGood(work.Result))))
            {
                key = state;
                work = Task.Run(make, CancellationToken.None);
            }

            asked = work;
        }

        try
        {
            return (true, await asked.WaitAsync(patience, cancellationToken));
        }
        catch (TimeoutException)
        {
            return (false, default);
        }
    }
}
