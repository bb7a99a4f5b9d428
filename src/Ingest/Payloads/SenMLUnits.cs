using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Vanehour.Ingest.Payloads;

/// <summary>The SenML unit registry as a table.</summary>
/// <remarks>
/// [RFC8428] C. Jennings et al., Sensor Measurement Lists (SenML), RFC 8428 (2018), section 12.1.
/// [RFC8798] C. Bormann, Additional Units for Sensor Measurement Lists (SenML), RFC 8798 (2020), sections 2 and 3.
/// </remarks>
public static class SenMLUnits
{
    /// <summary>Every registered unit, in the order of the registries.</summary>
    public static ImmutableArray<SenMLUnit> All { get; } =
    [
        // RFC 8428, section 12.1.
        new("m", "meter", "m", 1, 0, false),
        new("kg", "kilogram", "kg", 1, 0, false),
        new("g", "gram", "g", 1, 0, true),
        new("s", "second", "s", 1, 0, false),
        new("A", "ampere", "A", 1, 0, false),
        new("K", "kelvin", "K", 1, 0, false),
        new("cd", "candela", "cd", 1, 0, false),
        new("mol", "mole", "mol", 1, 0, false),
        new("Hz", "hertz", "Hz", 1, 0, false),
        new("rad", "radian", "rad", 1, 0, false),
        new("sr", "steradian", "sr", 1, 0, false),
        new("N", "newton", "N", 1, 0, false),
        new("Pa", "pascal", "Pa", 1, 0, false),
        new("J", "joule", "J", 1, 0, false),
        new("W", "watt", "W", 1, 0, false),
        new("C", "coulomb", "C", 1, 0, false),
        new("V", "volt", "V", 1, 0, false),
        new("F", "farad", "F", 1, 0, false),
        new("Ohm", "ohm", "Ohm", 1, 0, false),
        new("S", "siemens", "S", 1, 0, false),
        new("Wb", "weber", "Wb", 1, 0, false),
        new("T", "tesla", "T", 1, 0, false),
        new("H", "henry", "H", 1, 0, false),
        new("Cel", "degrees Celsius", "Cel", 1, 0, false),
        new("lm", "lumen", "lm", 1, 0, false),
        new("lx", "lux", "lx", 1, 0, false),
        new("Bq", "becquerel", "Bq", 1, 0, false),
        new("Gy", "gray", "Gy", 1, 0, false),
        new("Sv", "sievert", "Sv", 1, 0, false),
        new("kat", "katal", "kat", 1, 0, false),
        new("m2", "square meter (area)", "m2", 1, 0, false),
        new("m3", "cubic meter (volume)", "m3", 1, 0, false),
        new("l", "liter (volume)", "l", 1, 0, true),
        new("m/s", "meter per second (velocity)", "m/s", 1, 0, false),
        new("m/s2", "meter per square second (acceleration)", "m/s2", 1, 0, false),
        new("m3/s", "cubic meter per second (flow rate)", "m3/s", 1, 0, false),
        new("l/s", "liter per second (flow rate)", "l/s", 1, 0, true),
        new("W/m2", "watt per square meter (irradiance)", "W/m2", 1, 0, false),
        new("cd/m2", "candela per square meter (luminance)", "cd/m2", 1, 0, false),
        new("bit", "bit (information content)", "bit", 1, 0, false),
        new("bit/s", "bit per second (data rate)", "bit/s", 1, 0, false),
        new("lat", "degrees latitude (Note 1)", "lat", 1, 0, false),
        new("lon", "degrees longitude (Note 1)", "lon", 1, 0, false),
        new("pH", "pH value (acidity; logarithmic quantity)", "pH", 1, 0, false),
        new("dB", "decibel (logarithmic quantity)", "dB", 1, 0, false),
        new("dBW", "decibel relative to 1 W (power level)", "dBW", 1, 0, false),
        new("Bspl", "bel (sound pressure level; logarithmic quantity)", "Bspl", 1, 0, true),
        new("count", "1 (counter value)", "count", 1, 0, false),
        new("/", "1 (ratio, e.g., value of a switch; Note 2)", "/", 1, 0, false),
        new("%", "1 (ratio, e.g., value of a switch; Note 2)", "%", 1, 0, true),
        new("%RH", "percentage (relative humidity)", "%RH", 1, 0, false),
        new("%EL", "percentage (remaining battery energy level)", "%EL", 1, 0, false),
        new("EL", "seconds (remaining battery energy level)", "EL", 1, 0, false),
        new("1/s", "1 per second (event rate)", "1/s", 1, 0, false),
        new("1/min", "1 per minute (event rate, \"rpm\")", "1/min", 1, 0, true),
        new("beat/min", "1 per minute (heart rate in beats per minute)", "beat/min", 1, 0, true),
        new("beats", "1 (cumulative number of heart beats)", "beats", 1, 0, true),
        new("S/m", "siemens per meter (conductivity)", "S/m", 1, 0, false),

        // RFC 8798, section 2: primary units added.
        new("B", "Byte (information content)", "B", 1, 0, false),
        new("VA", "volt-ampere (Apparent Power)", "VA", 1, 0, false),
        new("VAs", "volt-ampere second (Apparent Energy)", "VAs", 1, 0, false),
        new("var", "volt-ampere reactive (Reactive Power)", "var", 1, 0, false),
        new("vars", "volt-ampere reactive second (Reactive Energy)", "vars", 1, 0, false),
        new("J/m", "joule per meter (Energy per distance)", "J/m", 1, 0, false),
        new("kg/m3", "kilogram per cubic meter (mass density, mass concentration)", "kg/m3", 1, 0, false),
        new("deg", "degree (angle)", "deg", 1, 0, true),

        // RFC 8798, section 3: secondary units.
        new("ms", "millisecond", "s", 1.0 / 1000, 0, false),
        new("min", "minute", "s", 60, 0, false),
        new("h", "hour", "s", 3600, 0, false),
        new("MHz", "megahertz", "Hz", 1000000, 0, false),
        new("kW", "kilowatt", "W", 1000, 0, false),
        new("kVA", "kilovolt-ampere", "VA", 1000, 0, false),
        new("kvar", "kilovar", "var", 1000, 0, false),
        new("Ah", "ampere-hour", "C", 3600, 0, false),
        new("Wh", "watt-hour", "J", 3600, 0, false),
        new("kWh", "kilowatt-hour", "J", 3600000, 0, false),
        new("varh", "var-hour", "vars", 3600, 0, false),
        new("kvarh", "kilovar-hour", "vars", 3600000, 0, false),
        new("kVAh", "kilovolt-ampere-hour", "VAs", 3600000, 0, false),
        new("Wh/km", "watt-hour per kilometer", "J/m", 3.6, 0, false),
        new("KiB", "kibibyte", "B", 1024, 0, false),
        new("GB", "gigabyte", "B", 1e9, 0, false),
        new("Mbit/s", "megabit per second", "bit/s", 1000000, 0, false),
        new("B/s", "byte per second", "bit/s", 8, 0, false),
        new("MB/s", "megabyte per second", "bit/s", 8000000, 0, false),
        new("mV", "millivolt", "V", 1.0 / 1000, 0, false),
        new("mA", "milliampere", "A", 1.0 / 1000, 0, false),
        new("dBm", "decibel (milliwatt)", "dBW", 1, -30, false),
        new("ug/m3", "microgram per cubic meter", "kg/m3", 1e-9, 0, false),
        new("mm/h", "millimeter per hour", "m/s", 1.0 / 3600000, 0, false),
        new("m/h", "meter per hour", "m/s", 1.0 / 3600, 0, false),
        new("ppm", "parts per million", "/", 1e-6, 0, false),
        new("/100", "percent", "/", 1.0 / 100, 0, false),
        new("/1000", "permille", "/", 1.0 / 1000, 0, false),
        new("hPa", "hectopascal", "Pa", 100, 0, false),
        new("mm", "millimeter", "m", 1.0 / 1000, 0, false),
        new("cm", "centimeter", "m", 1.0 / 100, 0, false),
        new("km", "kilometer", "m", 1000, 0, false),
        new("km/h", "kilometer per hour", "m/s", 1 / 3.6, 0, false),
    ];

    private static readonly FrozenDictionary<string, SenMLUnit> BySymbol = All.ToFrozenDictionary(u => u.Symbol, StringComparer.Ordinal);

    /// <summary>Finds a unit by its symbol; case matters. Null where there is none.</summary>
    public static SenMLUnit? Find(string symbol) => BySymbol.GetValueOrDefault(symbol);
}
