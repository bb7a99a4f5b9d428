namespace Vanehour.Models.VaneWear;

/// <summary>What changed at a step in flow kept.</summary>
public enum FlowStepNature
{
    /// <summary>The checks do not tell flow and leak apart well enough.</summary>
    Unknown,

    /// <summary>Mostly the leak back into the tank: a gasket, a valve, a lid.</summary>
    Leak,

    /// <summary>Mostly the flow itself: something in its way, or the speed.</summary>
    Flow,
}
