using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Import;

namespace Vanehour.Host.Commands;

/// <summary>The options that say what a service record holds, and who says so.</summary>
internal sealed class RecordFields
{
    private readonly Option<double?> meter = Number("--meter", "PTO hours on the truck's meter.", "H");
    private readonly Option<string?> date = new("--date") { Description = "When: a date or date-time; without an offset it is local to the truck.", HelpName = "DATE" };
    private readonly Option<double?> value = Number("--value", "The value that goes with the kind.", "V");
    private readonly Option<string?> unit = new("--unit") { Description = "The value's unit, as mm, qt, kPa, inHg, psi, h.", HelpName = "UNIT" };
    private readonly Option<string?> serial = new("--pump-serial") { Description = "Serial of the pump put on.", HelpName = "SERIAL" };
    private readonly Option<string?> model = new("--pump-model") { Description = "Model of the pump put on.", HelpName = "MODEL" };
    private readonly Option<string?> note = new("--note") { Description = "What else there is to say; a round's note names the round.", HelpName = "TEXT" };

    /// <summary>Who says so.</summary>
    public Option<string?> By { get; } = new("--by") { Description = "Who says so.", HelpName = "NAME" };

    public static string? Text(string? given) => string.IsNullOrWhiteSpace(given) ? null : given.Trim();

    /// <summary>A kind by its name in files; case and dashes for underscores are forgiven.</summary>
    public static ServiceKindInfo Kind(string name) =>
        ServiceKindInfo.Find(name.ToLowerInvariant().Replace('-', '_'))
        ?? throw new CommandFailedException(ServiceKindInfo.Unknown(name));

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[meter, date, value, unit, serial, model, note, By])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>Whether the meter is given.</summary>
    public bool HasMeter(ParseResult parsed) => parsed.GetValue(meter) is not null;

    /// <summary>Whether anything of the record is given.</summary>
    public bool HasAny(CommandResult result) => ((Option[])[meter, date, value, unit, serial, model, note]).Any(o => result.GetResult(o) is not null);

    /// <summary>The record with what is given put into it; an empty text takes away what was there.</summary>
    /// <exception cref="CommandFailedException">The date is none.</exception>
    public ServiceRecord Over(ServiceRecord record, ParseResult parsed, TimeZoneInfo zone)
    {
        var kind = ServiceKindInfo.Of(record.Kind);
        var changed = record with
        {
            At = parsed.GetValue(date) is { } text ? Instant(text, zone) : record.At,
            MeterH = parsed.GetValue(meter) ?? record.MeterH,
            Value = parsed.GetValue(value) ?? (kind.TakesValue ? record.Value : null),
            Unit = Given(parsed, unit, kind.TakesValue ? record.Unit : null),
            PumpSerial = Given(parsed, serial, record.PumpSerial),
            PumpModel = Given(parsed, model, record.PumpModel),
            Note = Given(parsed, note, record.Note),
        };
        return changed with { Unit = changed.Unit ?? (kind.UnitMayBeLeftOut ? kind.Symbols[0] : null) };
    }

    private static Option<double?> Number(string name, string description, string helpName) => new(name)
    {
        Description = description,
        HelpName = helpName,
        CustomParser = result =>
        {
            var text = result.Tokens.Count == 1 ? result.Tokens[0].Value : string.Empty;
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number))
            {
                return number;
            }

            result.AddError($"'{text}' is not a number for {name} (a decimal point, no thousands separators).");
            return null;
        },
    };

    private static string? Given(ParseResult parsed, Option<string?> option, string? otherwise) =>
        parsed.GetResult(option) is null ? otherwise : Text(parsed.GetValue(option));

    private static DateTimeOffset Instant(string text, TimeZoneInfo zone) => LocalInstant.TryParse(text, zone, out var instant)
        ? instant
        : throw new CommandFailedException($"'{text}' is not a date (as 2026-03-09) or date-time (as 2026-03-09T07:30 or 2026-03-09T07:30:00-05:00).");
}
