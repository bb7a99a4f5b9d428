using System.Collections.Immutable;
using System.Text.Json;
using Vanehour.Fleet;
using Vanehour.Simulator;

namespace Vanehour.Scoring;

/// <summary>Reads the truth of a simulated fleet, or of a real one whose keeper wrote down what happened, from JSON lines.</summary>
public static class TruthReader
{
    /// <summary>Reads a file. Lines of a type that is not known are passed over.</summary>
    /// <exception cref="EvaluationException">A line is not what its type asks for; the message names the line.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static FleetTruth Read(string file)
    {
        ArgumentException.ThrowIfNullOrEmpty(file);
        return Read(File.ReadLines(file));
    }

    /// <summary>Reads lines.</summary>
    /// <exception cref="EvaluationException">A line is not what its type asks for; the message names the line.</exception>
    public static FleetTruth Read(IEnumerable<string> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        var faults = ImmutableArray.CreateBuilder<TruthFault>();
        var lives = ImmutableArray.CreateBuilder<TruthLife>();
        var checks = ImmutableArray.CreateBuilder<TruthCheck>();
        var drifts = ImmutableArray.CreateBuilder<TruthDrift>();
        var stays = ImmutableArray.CreateBuilder<TruthStay>();
        var gateway = ImmutableArray.CreateBuilder<GatewayEvent>();
        var number = 0;
        foreach (var line in lines)
        {
            number++;
            if (string.IsNullOrWhiteSpace(line))
            {
                continue;
            }

            try
            {
                using var document = JsonDocument.Parse(line);
                var root = document.RootElement;
                switch (Text(root, "type"))
                {
                    case "fault":
                        faults.Add(Fault(root));
                        break;
                    case "life":
                        lives.Add(Life(root));
                        break;
                    case "check":
                        checks.Add(Check(root));
                        break;
                    case "drift":
                        drifts.Add(new TruthDrift(Text(root, "truck"), Time(root, "onset"), Real(root, "factor")));
                        break;
                    case "stay":
                        stays.Add(new TruthStay(Text(root, "truck"), Time(root, "from"), Time(root, "to")));
                        break;
                    case "gateway":
                        if (Enum.TryParse<GatewayEventKind>(Text(root, "kind"), out var kind))
                        {
                            gateway.Add(new GatewayEvent(Text(root, "truck"), kind, Time(root, "from"), Time(root, "to")));
                        }

                        break;
                    default:
                        break;
                }
            }
            catch (JsonException e)
            {
                throw new EvaluationException($"Line {number} of the truth file cannot be read: it is not valid JSON at byte {e.BytePositionInLine + 1}.", e);
            }
            catch (Exception e) when (e is FormatException or InvalidOperationException or ArgumentException)
            {
                throw new EvaluationException($"Line {number} of the truth file cannot be read: {e.Message}", e);
            }
        }

        return new FleetTruth(faults.ToImmutable(), lives.ToImmutable(), checks.ToImmutable())
        {
            Drifts = drifts.ToImmutable(),
            Stays = stays.ToImmutable(),
            Gateway = gateway.ToImmutable(),
        };
    }

    private static TruthFault Fault(JsonElement root) => new()
    {
        Truck = Text(root, "truck"),
        PumpSerial = Text(root, "pump_serial"),
        Fault = Enum.TryParse<Cause>(Text(root, "fault"), out var cause) && Enum.IsDefined(cause)
            ? cause
            : throw new FormatException($"'{Text(root, "fault")}' is no cause."),
        Onset = Time(root, "onset"),
        Severity = Real(root, "severity"),
        Serious = Flag(root, "serious"),
        HarmAt = Instant(root, "harm_at"),
        Ends = Instant(root, "ends"),
        Findings = root.TryGetProperty("findings", out var kinds) ? [.. kinds.EnumerateArray().Select(k => k.GetString()!)] : [],
    };

    private static TruthLife Life(JsonElement root) => new()
    {
        Truck = Text(root, "truck"),
        PumpSerial = Text(root, "pump_serial"),
        FittedAt = Time(root, "fitted_at"),
        MeterAtFittingH = Real(root, "meter_at_fitting_h"),
        LimitAt = Instant(root, "limit_at"),
        LimitAtH = Number(root, "limit_at_h"),
        FailsAtH = Number(root, "fails_at_h"),
        RemovedAt = Instant(root, "removed_at"),
    };

    private static TruthCheck Check(JsonElement root) => new()
    {
        Truck = Text(root, "truck"),
        At = Time(root, "at"),
        Complete = Flag(root, "complete"),
        GasShare = Real(root, "gas_share"),
        FlowKept = Real(root, "flow_kept"),
    };

    private static JsonElement Need(JsonElement root, string name) =>
        root.ValueKind == JsonValueKind.Object && root.TryGetProperty(name, out var value) ? value : throw new FormatException($"'{name}' is missing.");

    private static string Text(JsonElement root, string name) =>
        Need(root, name) is { ValueKind: JsonValueKind.String } value ? value.GetString()! : throw new FormatException($"'{name}' is not a text.");

    private static DateTimeOffset Time(JsonElement root, string name) =>
        Need(root, name) is { ValueKind: JsonValueKind.String } value && value.TryGetDateTimeOffset(out var at) ? at : throw new FormatException($"'{name}' is not an instant.");

    private static double Real(JsonElement root, string name) =>
        Need(root, name) is { ValueKind: JsonValueKind.Number } value ? value.GetDouble() : throw new FormatException($"'{name}' is not a number.");

    private static bool Flag(JsonElement root, string name) =>
        Need(root, name) is { ValueKind: JsonValueKind.True or JsonValueKind.False } value ? value.GetBoolean() : throw new FormatException($"'{name}' is not true or false.");

    private static DateTimeOffset? Instant(JsonElement root, string name) => IsGiven(root, name) ? Time(root, name) : null;

    private static double? Number(JsonElement root, string name) => IsGiven(root, name) ? Real(root, name) : null;

    private static bool IsGiven(JsonElement root, string name) => root.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null;
}
