using Vanehour.Fleet;

namespace Vanehour.Models.VaneWear;

/// <summary>A step in flow kept: a leak, a blockage or its repair, never wear.</summary>
/// <param name="At">The first start-up check after it.</param>
/// <param name="HoursSinceFitting">PTO hours of the life at that check, h.</param>
/// <param name="Change">By how much flow kept changed, as a share of the flow as new; below 0 it fell.</param>
/// <param name="ChangeSe">Its standard error, given that it lies there.</param>
/// <param name="Nature">What the fits of the pump-downs before and after say of it.</param>
/// <param name="Service">A service record between the checks that may explain it, or null.</param>
public sealed record FlowStep(
    DateTimeOffset At, double HoursSinceFitting, double Change, double ChangeSe, FlowStepNature Nature, ServiceKind? Service);
