using System.Globalization;
using Vanehour.Fleet;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Units;

namespace Vanehour.Models.Runs;

/// <summary>What the register knows of one truck at any instant, as far as the derivation of its runs needs it.</summary>
public sealed class RunContext
{
    private readonly IReadOnlyList<Life> lives;
    private readonly IReadOnlyDictionary<string, PumpModel> models;
    private readonly ServiceRecord[] reliefSettings;
    private readonly long[] flowChangesMs;
    private readonly long[] pumpChangesMs;
    private long cachedFromMs = 1;
    private long cachedToMs;
    private double? cachedThresholdRpm;

    /// <summary>Creates the context of one truck.</summary>
    /// <param name="truck">The truck.</param>
    /// <param name="records">Its service records, in any order; those of other trucks are passed over.</param>
    /// <param name="models">Pump models by name; one that is missing leaves unknown what hangs on it.</param>
    /// <param name="settings">Settings of the derivation.</param>
    public RunContext(Truck truck, IEnumerable<ServiceRecord> records, IReadOnlyDictionary<string, PumpModel> models, RunSettings settings)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(records);
        ArgumentNullException.ThrowIfNull(models);
        ArgumentNullException.ThrowIfNull(settings);
        Truck = truck;
        Settings = settings;
        this.models = models;
        var own = records.Where(r => string.Equals(r.Truck, truck.Id, StringComparison.Ordinal)).OrderBy(r => r.At).ToArray();
        lives = LifeHistory.Build(truck, own);
        reliefSettings = [.. own.Where(r => r.Kind == ServiceKind.ReliefVacuumSet && r.ValueSi is not null)];
        flowChangesMs = [.. own.Where(r => ChangesFlow(r.Kind)).Select(r => r.At.ToUnixTimeMilliseconds()).Order()];
        pumpChangesMs = [.. own.Where(r => ChangesPump(r.Kind)).Select(r => r.At.ToUnixTimeMilliseconds())
            .Concat(lives.Select(l => l.FittedAt.ToUnixTimeMilliseconds())).Order()];

        // The register checks elevations when it takes them in; the clamp only keeps an odd one from stopping a fleet's derivation.
        var metres = Math.Clamp(truck.Elevation?.Metres ?? 0, -5000, 11000);
        StandardAmbient = StandardAtmosphere.AtElevation(Length.FromMetres(metres));
    }

    /// <summary>The truck.</summary>
    public Truck Truck { get; }

    /// <summary>Settings of the derivation.</summary>
    public RunSettings Settings { get; }

    /// <summary>The standard atmosphere at the yard, for want of a barometer.</summary>
    public AbsolutePressure StandardAmbient { get; }

    /// <summary>The name of the pump model on the truck at an instant: that of the life covering it, else of the last one before, else the registered one.</summary>
    public string PumpModelNameAt(DateTimeOffset at) => LifeAt(at)?.PumpModel ?? Truck.PumpModel;

    /// <summary>The pump model on the truck at an instant, or null where the register does not have it.</summary>
    public PumpModel? PumpModelAt(DateTimeOffset at) => models.GetValueOrDefault(PumpModelNameAt(at));

    /// <summary>The vacuum at which the relief valve should lift: as last set by a service record, else the pump model's; null where neither is known.</summary>
    public Pressure? ReliefVacuumAt(DateTimeOffset at)
    {
        var last = reliefSettings.LastOrDefault(r => r.At <= at);
        return last?.ValueSi is { } pascals ? Pressure.FromSi(pascals) : PumpModelAt(at)?.ReliefVacuum;
    }

    /// <summary>The last instant up to <paramref name="atMs"/> (Unix ms) at which somebody did something that can give flow back that was lost, or null.</summary>
    internal long? LastFlowChangeMs(long atMs) => Last(flowChangesMs, atMs);

    /// <summary>The last instant up to <paramref name="atMs"/> (Unix ms) from which on another pump, or one made new, is on the truck; or null.</summary>
    internal long? LastPumpChangeMs(long atMs) => Last(pumpChangesMs, atMs);

    /// <summary>Without a power take-off signal the pump counts as driven above this speed, rpm; null where the pump model is unknown.</summary>
    internal double? EngagedAboveRpm(long atMs)
    {
        if (atMs < cachedFromMs || atMs >= cachedToMs)
        {
            var at = DateTimeOffset.FromUnixTimeMilliseconds(atMs);
            cachedThresholdRpm = PumpModelAt(at)?.RatedSpeed.Rpm * RunRules.EngagedSpeedShare;
            var next = lives.FirstOrDefault(l => l.FittedAt > at);
            cachedFromMs = atMs;
            cachedToMs = next?.FittedAt.ToUnixTimeMilliseconds() ?? long.MaxValue;
        }

        return cachedThresholdRpm;
    }

    /// <summary>All of this that runs depend on; whatever is read here by a derivation must be in it.</summary>
    public RunBasis Basis()
    {
        var basis = new RunBasis.Builder();
        basis.Always("rules", RunRules.Version);
        basis.Always("standard ambient, kPa", StandardAmbient.Kilopascals);
        basis.Model(null, Truck.PumpModel, models.GetValueOrDefault(Truck.PumpModel), Settings.ReferenceVacuumKPaOf(Truck.PumpModel));
        foreach (var life in lives)
        {
            basis.Model(life.FittedAt, life.PumpModel, models.GetValueOrDefault(life.PumpModel), Settings.ReferenceVacuumKPaOf(life.PumpModel));
        }

        foreach (var set in reliefSettings)
        {
            basis.From(set.At, "relief vacuum, Pa", set.ValueSi!.Value.ToString("R", CultureInfo.InvariantCulture));
        }

        foreach (var changeMs in flowChangesMs)
        {
            basis.From(DateTimeOffset.FromUnixTimeMilliseconds(changeMs), "flow", "may have changed");
        }

        foreach (var changeMs in pumpChangesMs)
        {
            basis.From(DateTimeOffset.FromUnixTimeMilliseconds(changeMs), "pump", "changed");
        }

        return basis.Build();
    }

    private static long? Last(long[] instantsMs, long atMs)
    {
        var index = Array.BinarySearch(instantsMs, atMs);
        index = index >= 0 ? index : ~index - 1;
        return index >= 0 ? instantsMs[index] : null;
    }

    private static bool ChangesPump(ServiceKind kind) => kind is ServiceKind.Rebuild or ServiceKind.Failure or ServiceKind.Fitted or ServiceKind.Removed;

    private static bool ChangesFlow(ServiceKind kind) => kind is ServiceKind.InletFilter or ServiceKind.FloatShutoff or ServiceKind.Hose or ServiceKind.Gasket
        or ServiceKind.Coupling or ServiceKind.Flush or ServiceKind.Deodoriser;

    private Life? LifeAt(DateTimeOffset at) => lives.LastOrDefault(l => l.FittedAt <= at);
}
