namespace Vanehour.Fleet.Register;

/// <summary>The trucks, pump models and service records that people keep.</summary>
public interface IFleetRegister
{
    /// <summary>Every pump model, in order of name (ordinal).</summary>
    IReadOnlyList<PumpModel> PumpModels();

    /// <summary>Every truck, in order of id (ordinal).</summary>
    IReadOnlyList<Truck> Trucks();

    /// <summary>Service records in order of instant; of one truck, or of all when <paramref name="truck"/> is null.</summary>
    IReadOnlyList<ServiceRecord> ServiceRecords(string? truck = null);

    /// <summary>In one transaction: adds or replaces by key (model; truck; record id, or truck + instant + kind + meter). Same content again changes nothing; what changes of service records stands in their history.</summary>
    /// <returns>How many rows were added or changed.</returns>
    int Upsert(IReadOnlyCollection<PumpModel> models, IReadOnlyCollection<Truck> trucks, IReadOnlyCollection<ServiceRecord> records);
}
