namespace Vanehour.Models.VaneWear;

/// <summary>Which of the two readings that a start-up check gives of wear.</summary>
internal enum WearChannel
{
    /// <summary>ln of net flow over gas volume, over that of the nameplate: flow kept, up to the truck's own tank volume, flow and gauge.</summary>
    NetFlow,

    /// <summary>ln of net flow over displaced flow at the reference vacuum, 1 - C v_r/(S (p_a - v_r)): tank volume, speed and gauge gain cancel.</summary>
    Tightness,
}
