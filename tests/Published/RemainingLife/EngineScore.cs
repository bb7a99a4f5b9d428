namespace Vanehour.Published.RemainingLife;

/// <summary>How predictions of remaining life came out.</summary>
/// <param name="Rmse">Root mean square error against the true remaining life, cycles.</param>
/// <param name="RmseCapped">The same against the capped one, cycles.</param>
/// <param name="Phm08">The asymmetric score of the PHM08 challenge: late predictions cost more than early ones.</param>
/// <param name="Before">How many truths lie below their interval.</param>
/// <param name="After">How many truths lie above it.</param>
/// <param name="Count">How many engines.</param>
internal sealed record EngineScore(double Rmse, double RmseCapped, double Phm08, int Before, int After, int Count)
{
    /// <summary>Share of truths inside their interval.</summary>
    public double Inside => (double)(Count - Before - After) / Count;
}
