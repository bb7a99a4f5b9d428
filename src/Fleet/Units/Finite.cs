using System.Runtime.CompilerServices;

namespace Vanehour.Fleet.Units;

/// <summary>Guards that keep NaN, infinity and impossible values out of quantities.</summary>
internal static class Finite
{
    public static double Check(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, "Must be a finite number.");

    public static double NotNegative(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        Check(value, name) >= 0 ? value : throw new ArgumentOutOfRangeException(name, value, "Must not be negative.");
}
