using Vanehour.Simulator.Physics;

namespace Vanehour.Simulator.Scenario;

/// <summary>A place in the pattern of twelve trucks that every fleet repeats.</summary>
/// <param name="Role">What the truck is there for.</param>
/// <param name="Build">Its pump model.</param>
/// <param name="Yard">Its yard.</param>
/// <param name="VanesMeasured">Whether its vane width is measured now and then.</param>
internal sealed record ScenarioSlot(TruckRole Role, PumpBuild Build, Yard Yard, bool VanesMeasured)
{
    public static readonly IReadOnlyList<ScenarioSlot> Pattern =
    [
        new(TruckRole.HealthyFresh, InventedPumpModels.Harrow310, Yard.Shoreline, false),
        new(TruckRole.NearLimitSoon, InventedPumpModels.Thistle230, Yard.Prairie, true),
        new(TruckRole.OilHigh, InventedPumpModels.Harrow310, Yard.Shoreline, true),
        new(TruckRole.OilStarved, InventedPumpModels.Thistle230, Yard.Shoreline, false),
        new(TruckRole.Hot, InventedPumpModels.Bramble400, Yard.Highland, true),
        new(TruckRole.Rebuilt, InventedPumpModels.Harrow310, Yard.Prairie, true),
        new(TruckRole.Leaking, InventedPumpModels.Harrow310, Yard.Shoreline, false),
        new(TruckRole.HealthyMidLife, InventedPumpModels.Thistle230, Yard.Highland, true),
        new(TruckRole.HealthyMidLife, InventedPumpModels.Bramble400, Yard.Prairie, false),
        new(TruckRole.NearLimitLater, InventedPumpModels.Harrow310, Yard.Prairie, true),
        new(TruckRole.HealthyMidLife, InventedPumpModels.Thistle230, Yard.Shoreline, true),
        new(TruckRole.HealthyFresh, InventedPumpModels.Bramble400, Yard.Highland, false),
    ];

    /// <summary>Invented truck names, one a place.</summary>
    public static readonly IReadOnlyList<string> Names =
        ["Heron", "Badger", "Otter", "Marten", "Curlew", "Beaver", "Plover", "Linnet", "Osprey", "Magpie", "Dunlin", "Kestrel"];
}
