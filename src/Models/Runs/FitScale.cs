namespace Vanehour.Models.Runs;

/// <summary>The units in which the fit is done.</summary>
internal readonly record struct FitScale(double OriginS, double S, double KPa)
{
    public double TimeS(double scaled) => OriginS + (scaled * S);
}
