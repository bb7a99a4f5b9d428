namespace Vanehour.Models.ChangePoints;

/// <summary>When a change counts. The defaults are chosen, not published, unless they say otherwise.</summary>
public sealed record ChangeSearchOptions
{
    /// <summary>
    /// Evidence from which a change counts in a long row; in a row of n values it is this times 1 + (15/n)^2, because the noise of a short row is badly
    /// known. Simulated rows of pure noise pass the default about once in a thousand, rows of 12 to 20 values once in two hundred. A row is looked at
    /// again and again, hence so rarely.
    /// </summary>
    public double LeastEvidence { get; init; } = 22;

    /// <summary>Evidence asked of a row of <paramref name="count"/> values.</summary>
    public double LeastEvidenceOf(int count) => LeastEvidence * (1 + (225.0 / ((double)count * count)));

    /// <summary>The smallest change that matters, in the values' unit.</summary>
    public double MattersFrom { get; init; }

    /// <summary>Fewest values on each side of a change.</summary>
    public int FewestEachSide { get; init; } = 3;

    /// <summary>Whether the row has a slope of its own before any change: wear has, a setting has not.</summary>
    public bool HasSlope { get; init; } = true;

    /// <summary>The most changes looked for.</summary>
    public int MostChanges { get; init; } = 4;

    /// <summary>A positive correlation of neighbouring values' noise, below 1: evidence is divided by (1 + rho)/(1 - rho).</summary>
    public double Rho { get; init; }

    /// <summary>What is wrong with these options, in sentences; empty when nothing is.</summary>
    public IEnumerable<string> Problems()
    {
        if (!(LeastEvidence > 0) || !(MattersFrom >= 0) || !(Rho is >= 0 and < 1))
        {
            yield return "The least evidence must be above 0, the change that matters not negative, and the correlation from 0 to below 1.";
        }

        if (FewestEachSide < 2 || MostChanges < 1)
        {
            yield return "At least 2 values on each side and 1 change are needed.";
        }
    }
}
