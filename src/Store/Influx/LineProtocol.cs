using System.Globalization;
using System.Text;
using Vanehour.Fleet;

namespace Vanehour.Store.Influx;

/// <summary>
/// Builds lines of InfluxDB's line protocol: measurement, tags, fields, instant in ms. Numbers are always floats, because a field that once
/// was an integer refuses every float after it. Built here and not from PointData, which costs four times as much as the request itself.
/// </summary>
internal sealed class LineProtocol
{
    private readonly StringBuilder text = new();
    private bool hasField;

    /// <summary>How many lines there are.</summary>
    public int Lines { get; private set; }

    /// <summary>One sample; <paramref name="sample"/> must have a value.</summary>
    public LineProtocol Sample(string measurement, in Sample sample)
    {
        Begin(measurement).Tag("truck", InfluxName.ToTag(sample.Truck));
        for (var i = 0; i < SignalInfo.Count; i++)
        {
            if (!double.IsNaN(sample.Values[i]))
            {
                Field(SignalInfo.All[i].Name, sample.Values[i]);
            }
        }

        return End(sample.UnixMs);
    }

    /// <summary>Begins a line.</summary>
    public LineProtocol Begin(string measurement)
    {
        Escape(measurement, ", ");
        hasField = false;
        return this;
    }

    /// <summary>Adds a tag; one without a value is left out, as line protocol has no empty tags.</summary>
    public LineProtocol Tag(string name, string? value)
    {
        if (!string.IsNullOrEmpty(value))
        {
            text.Append(',');
            Escape(name, ",= ");
            text.Append('=');
            Escape(value, ",= ");
        }

        return this;
    }

    /// <summary>Adds a number; null is left out.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN or infinite: the server would drop it without a word.</exception>
    public LineProtocol Field(string name, double? value)
    {
        if (value is not { } number)
        {
            return this;
        }

        if (!double.IsFinite(number))
        {
            throw new ArgumentOutOfRangeException(nameof(value), number, $"The field {name} must be finite.");
        }

        Name(name);
        Span<char> digits = stackalloc char[32];
        number.TryFormat(digits, out var length, "R", CultureInfo.InvariantCulture);
        text.Append(digits[..length]);
        return this;
    }

    /// <summary>Adds a text.</summary>
    public LineProtocol Field(string name, string value)
    {
        Name(name);
        text.Append('"');
        foreach (var c in value)
        {
            if (c is '"' or '\\')
            {
                text.Append('\\');
            }

            text.Append(c is '\n' or '\r' ? ' ' : c);
        }

        text.Append('"');
        return this;
    }

    /// <summary>Ends the line.</summary>
    /// <param name="unixMs">The instant, Unix ms.</param>
    public LineProtocol End(long unixMs)
    {
        text.Append(' ').Append(CultureInfo.InvariantCulture, $"{unixMs}").Append('\n');
        Lines++;
        return this;
    }

    /// <inheritdoc/>
    public override string ToString() => text.ToString();

    private void Name(string name)
    {
        text.Append(hasField ? ',' : ' ');
        hasField = true;
        Escape(name, ",= ");
        text.Append('=');
    }

    private void Escape(string part, string special)
    {
        if (part.AsSpan().IndexOfAny(special) < 0)
        {
            text.Append(part);
            return;
        }

        foreach (var c in part)
        {
            if (special.Contains(c, StringComparison.Ordinal))
            {
                text.Append('\\');
            }

            text.Append(c);
        }
    }
}
