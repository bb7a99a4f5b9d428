namespace Vanehour.Models.Survival;

/// <summary>How long one unit lasted, or has lasted so far; under observation from an age on, until another.</summary>
/// <param name="Entry">Age at which it came under observation, 0 or above, in the unit of <paramref name="Exit"/>: 0 when it was watched from the beginning, above it when one
/// that failed earlier would not be among the data (left truncation).</param>
/// <param name="Exit">Age at the failure, or at the last time it was known not to have failed; above <paramref name="Entry"/>.</param>
/// <param name="HasFailed">Whether it failed at <paramref name="Exit"/>; else it is censored there.</param>
public readonly record struct Lifetime(double Entry, double Exit, bool HasFailed)
{
    /// <summary>
    /// Of a failure that was found at an inspection, the last age at which it was seen not to have failed, from <see cref="Entry"/> to below <see cref="Exit"/>: it failed after
    /// that and no later than <see cref="Exit"/> (interval censoring). Null where the failure itself was seen.
    /// </summary>
    public double? FineUntil { get; init; }

    /// <summary>Sees that ages can be used.</summary>
    /// <exception cref="ArgumentException">One is not finite, below 0, or no later than its entry; or a unit was seen fine outside its lifetime, or without a failure.</exception>
    internal static void Check(IReadOnlyList<Lifetime> lifetimes)
    {
        ArgumentNullException.ThrowIfNull(lifetimes);
        foreach (var life in lifetimes)
        {
            if (!double.IsFinite(life.Entry) || !double.IsFinite(life.Exit) || life.Entry < 0 || life.Exit <= life.Entry)
            {
                throw new ArgumentException($"A lifetime from {life.Entry} to {life.Exit} cannot be used: ages are finite, from 0 on, and end after they begin.", nameof(lifetimes));
            }

            if (life.FineUntil is { } fine && !(life.HasFailed && fine >= life.Entry && fine < life.Exit))
            {
                throw new ArgumentException($"A lifetime from {life.Entry} to {life.Exit} cannot be seen fine until {fine}: that is for failures, from the entry to before the end.", nameof(lifetimes));
            }
        }
    }
}
