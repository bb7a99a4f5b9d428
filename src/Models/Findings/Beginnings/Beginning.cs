using Vanehour.Fleet;
using Vanehour.Models.ChangePoints;

namespace Vanehour.Models.Findings;

/// <summary>How a finding began.</summary>
/// <param name="Kind">At one stroke, or growing.</param>
/// <param name="At">The first day after the change.</param>
/// <param name="Size">The jump, or what the change of slope has made by now, in <paramref name="Unit"/>.</param>
/// <param name="Unit">The unit of the size.</param>
/// <param name="Service">What was done on the truck about then; null where nothing is recorded.</param>
public sealed record Beginning(ChangeKind Kind, DateTimeOffset At, double Size, string Unit, ServiceKind? Service);
