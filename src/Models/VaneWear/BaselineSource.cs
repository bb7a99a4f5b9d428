namespace Vanehour.Models.VaneWear;

/// <summary>What pins down a pump's wear beside its own checks of late.</summary>
public enum BaselineSource
{
    /// <summary>This life's own first checks.</summary>
    OwnChecks,

    /// <summary>A vane width measured in this life.</summary>
    VaneWidth,

    /// <summary>An earlier life of the same pump on the same truck.</summary>
    EarlierLife,

    /// <summary>The fleet's other pumps of the model, and the register.</summary>
    Fleet,
}
