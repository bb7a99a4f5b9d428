using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Vanehour.Fleet;

namespace Vanehour.Models.Runs;

/// <summary>
/// What the register and the settings say of one truck that its runs depend on, as a line of time: each entry holds from its instant on and changes nothing before.
/// It is kept with the runs, so that a later derivation sees from when on the register says something else now.
/// </summary>
/// <remarks>A pump model enters whole: that costs a derivation where it did not have to be, and cannot forget a figure that does matter.</remarks>
public sealed class RunBasis
{
    private readonly ImmutableArray<Entry> entries;

    private RunBasis(IEnumerable<Entry> entries) =>
        this.entries = [.. entries.OrderBy(e => e.FromMs).ThenBy(e => e.Text, StringComparer.Ordinal)];

    /// <summary>Reads what <see cref="ToString"/> wrote; null where it cannot be read.</summary>
    public static RunBasis? Parse(string? text)
    {
        var read = new List<Entry>();
        foreach (var line in (text ?? string.Empty).Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            var space = line.IndexOf(' ', StringComparison.Ordinal);
            if (space <= 0 || !long.TryParse(line.AsSpan(0, space), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var fromMs))
            {
                return null;
            }

            read.Add(new Entry(fromMs, line[(space + 1)..]));
        }

        return read.Count == 0 ? null : new RunBasis(read);
    }

    /// <summary>The first instant (Unix ms) from which on the two say something else; null where they say the same, <see cref="long.MinValue"/> where nothing is known of one.</summary>
    public static long? FirstDifferenceMs(RunBasis? before, RunBasis now)
    {
        ArgumentNullException.ThrowIfNull(now);
        if (before is null)
        {
            return long.MinValue;
        }

        for (var i = 0; i < Math.Max(before.entries.Length, now.entries.Length); i++)
        {
            var was = i < before.entries.Length ? before.entries[i] : new Entry(long.MaxValue, string.Empty);
            var isNow = i < now.entries.Length ? now.entries[i] : new Entry(long.MaxValue, string.Empty);
            if (was != isNow)
            {
                return Math.Min(was.FromMs, isNow.FromMs);
            }
        }

        return null;
    }

    /// <summary>The text that is stored: a line an entry.</summary>
    public override string ToString() =>
        string.Join('\n', entries.Select(e => string.Create(CultureInfo.InvariantCulture, $"{e.FromMs} {e.Text}")));

    /// <summary>Gathers entries; what is said twice of one instant stays twice.</summary>
    internal sealed class Builder
    {
        private readonly List<Entry> entries = [];

        public void Always(string name, double value) => entries.Add(new Entry(long.MinValue, string.Create(CultureInfo.InvariantCulture, $"{name} {value:R}")));

        public void From(DateTimeOffset? at, string name, string value) => entries.Add(new Entry(at?.ToUnixTimeMilliseconds() ?? long.MinValue, $"{name} {value}"));

        /// <param name="at">From when on the model is on the truck; null: before anything is said.</param>
        /// <param name="name">The model's name.</param>
        /// <param name="model">The model, or null where the register does not have it.</param>
        /// <param name="referenceVacuumKPa">The reference vacuum of flow kept, kPa.</param>
        public void Model(DateTimeOffset? at, string name, PumpModel? model, double referenceVacuumKPa) => From(
            at,
            "model",
            string.Create(
                CultureInfo.InvariantCulture,
                $"{JsonEncodedText.Encode(name)} at {referenceVacuumKPa:R} kPa {(model is null ? "unknown" : JsonSerializer.Serialize(model, FleetJson.Default.PumpModel))}"));

        public RunBasis Build() => new(entries);
    }

    private readonly record struct Entry(long FromMs, string Text);
}
