namespace Vanehour.Models.VaneWear;

/// <summary>Where the flow of the pump as new was taken from.</summary>
public enum BaselineSource
{
    /// <summary>From this life's own first checks.</summary>
    OwnChecks,

    /// <summary>From an earlier life of the same pump on the same truck.</summary>
    EarlierLife,

    /// <summary>From other trucks' pumps of the model, brought over by rated flow and tank volume.</summary>
    Peers,

    /// <summary>From rated flow and tank volume alone.</summary>
    Nameplate,
}
