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
                switch (root.GetProperty("type").GetString())
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
                        drifts.Add(new TruthDrift(Text(root, "truck"), root.GetProperty("onset").GetDateTimeOffset(), root.GetProperty("factor").GetDouble()));
                        break;
                    case "stay":
                        stays.Add(new TruthStay(Text(root, "truck"), root.GetProperty("from").GetDateTimeOffset(), root.GetProperty("to").GetDateTimeOffset()));
                        break;
                    case "gateway":
                        if (Enum.TryParse<GatewayEventKind>(Text(root, "kind"), out var kind))
                        {
                            gateway.Add(new GatewayEvent(Text(root, "truck"), kind, root.GetProperty("from").GetDateTimeOffset(), root.GetProperty("to").GetDateTimeOffset()));
                        }

                        break;
                    default:
                        break;
                }
            }
            catch (Exception e) when (e is JsonException or FormatException or InvalidOperationException or KeyNotFoundException or ArgumentException)
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
        Onset = root.GetProperty("onset").GetDateTimeOffset(),
        Severity = root.GetProperty("severity").GetDouble(),
        Serious = root.GetProperty("serious").GetBoolean(),
        HarmAt = Instant(root, "harm_at"),
        Ends = Instant(root, "ends"),
        Findings = root.TryGetProperty("findings", out var kinds) ? [.. kinds.EnumerateArray().Select(k => k.GetString()!)] : [],
    };

    private static TruthLife Life(JsonElement root) => new()
    {
        Truck = Text(root, "truck"),
        PumpSerial = Text(root, "pump_serial"),
        FittedAt = root.GetProperty("fitted_at").GetDateTimeOffset(),
        MeterAtFittingH = root.GetProperty("meter_at_fitting_h").GetDouble(),
        LimitAt = Instant(root, "limit_at"),
        LimitAtH = Number(root, "limit_at_h"),
        FailsAtH = Number(root, "fails_at_h"),
        RemovedAt = Instant(root, "removed_at"),
    };

    private static TruthCheck Check(JsonElement root) => new()
    {
        Truck = Text(root, "truck"),
        At = root.GetProperty("at").GetDateTimeOffset(),
        Complete = root.GetProperty("complete").GetBoolean(),
        GasShare = root.GetProperty("gas_share").GetDouble(),
        FlowKept = root.GetProperty("flow_kept").GetDouble(),
    };

    private static string Text(JsonElement root, string name) => root.GetProperty(name).GetString() ?? throw new FormatException($"{name} is null.");

    private static DateTimeOffset? Instant(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null ? value.GetDateTimeOffset() : null;

    private static double? Number(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) && value.ValueKind != JsonValueKind.Null ? value.GetDouble() : null;
}
