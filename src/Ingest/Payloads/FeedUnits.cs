using System.Collections.Frozen;
using System.Text;
using Vanehour.Fleet.Units;

namespace Vanehour.Ingest.Payloads;

/// <summary>The units a feed may use: those of the SenML registry that measure something a pump's signals do, and the trade's own.</summary>
public static class FeedUnits
{
    // The registry's primary units for the dimensions we know. Hz and beat/min are rates of other things and stay out.
    private static readonly Unit[] Primary =
    [
        Unit.Pascal, Unit.Kelvin, Unit.Celsius, Unit.CubicMetre, Unit.Litre, Unit.CubicMetrePerSecond, Unit.Metre, Unit.Second,
        Unit.PerSecond, Unit.PerMinute, new("l/s", Dimension.VolumeFlow, 0.001),
    ];

    // Not SenML: what gauges and gateways in the trade say.
    private static readonly Unit[] Trade =
    [
        Unit.Kilopascal, Unit.InchOfMercury, Unit.Psi, Unit.Fahrenheit, Unit.Quart, Unit.USGallon, Unit.Rpm, Unit.CubicFootPerMinute,
    ];

    private static readonly FrozenDictionary<string, Unit> BySymbol = Build();

    private static readonly FrozenDictionary<string, Unit>.AlternateLookup<ReadOnlySpan<char>> BySpan =
        BySymbol.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>Every unit that some signal could be sent in, in no particular order.</summary>
    public static IEnumerable<Unit> All => BySymbol.Values;

    /// <summary>Finds a unit by its symbol in UTF-8; case matters. Null where there is none.</summary>
    public static Unit? Find(ReadOnlySpan<byte> symbol)
    {
        Span<char> chars = stackalloc char[16];
        return symbol.Length <= chars.Length && Encoding.UTF8.TryGetChars(symbol, chars, out var length)
            && BySpan.TryGetValue(chars[..length], out var unit) ? unit : null;
    }

    private static FrozenDictionary<string, Unit> Build()
    {
        var units = new Dictionary<string, Unit>(StringComparer.Ordinal);
        foreach (var unit in Primary.Concat(Trade))
        {
            units.Add(unit.Symbol, unit);
        }

        foreach (var secondary in SenMLUnits.All.Where(u => u.Symbol != u.Primary))
        {
            if (Array.Find(Primary, p => p.Symbol == secondary.Primary) is { } primary)
            {
                units.Add(secondary.Symbol, new Unit(
                    secondary.Symbol,
                    primary.Dimension,
                    primary.Scale * secondary.Scale,
                    (primary.Scale * secondary.Offset) + primary.Offset));
            }
        }

        return units.ToFrozenDictionary(StringComparer.Ordinal);
    }
}
