namespace Vanehour.Models.VaneWear;

/// <summary>What is believed of a number before a pump's own observations: normal.</summary>
/// <param name="Mean">The mean.</param>
/// <param name="Variance">The variance, above 0.</param>
internal readonly record struct NormalPrior(double Mean, double Variance)
{
    /// <summary>Both beliefs together, taken as independent.</summary>
    public NormalPrior And(NormalPrior other)
    {
        var precision = (1 / Variance) + (1 / other.Variance);
        return new NormalPrior(((Mean / Variance) + (other.Mean / other.Variance)) / precision, 1 / precision);
    }
}
