using System.Globalization;
using System.Text.RegularExpressions;

namespace Vanehour.Reports.Words;

/// <summary>Numbers as people read them.</summary>
internal static partial class NumberWords
{
    /// <summary>What stands between thousands: narrow and not breaking, so that it reads as neither a decimal point nor the end of a number.</summary>
    public const char ThinSpace = '\u202F';

    /// <summary>A whole number with thousands apart.</summary>
    public static string Whole(double value) => Large(value) ?? Thin(Unsigned(value.ToString("#,0", CultureInfo.InvariantCulture)));

    /// <summary>A text with the commas between thousands made thin spaces.</summary>
    public static string Thin(string text) => Thousands().Replace(text, ThinSpace.ToString());

    /// <summary>A number with a fixed count of decimals.</summary>
    public static string Fixed(double value, int decimals) =>
        Large(value) ?? Unsigned(value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture));

    /// <summary>A share as per cent.</summary>
    public static string Percent(double share) => Fixed(share * 100, 0) + " %";

    /// <summary>A number on an axis with ticks <paramref name="step"/> apart.</summary>
    public static string Tick(double value, double step)
    {
        var decimals = step >= 1 ? 0 : Math.Min(6, (int)Math.Ceiling(-Math.Log10(step) - 1e-9));
        return Large(value, 1e5) ?? (decimals == 0 ? Whole(value) : Fixed(value, decimals));
    }

    // Ten million and more can only be a fault; written short so that it can't crowd out the rest.
    private static string? Large(double value, double limit = 1e7) =>
        !double.IsFinite(value) ? "unknown" : Math.Abs(value) >= limit ? value.ToString("0.#E+0", CultureInfo.InvariantCulture) : null;

    [GeneratedRegex("(?<=[0-9]),(?=[0-9]{3}(?![0-9]))")]
    private static partial Regex Thousands();

    private static string Unsigned(string number) => number.StartsWith('-') && !number.AsSpan().ContainsAnyInRange('1', '9') ? number[1..] : number;
}
