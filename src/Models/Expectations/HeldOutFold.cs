using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>One step of the comparison: what is learned from, and on what it is tried.</summary>
/// <param name="Cut">Nothing learned from ended after it; nothing tried began before it.</param>
/// <param name="Training">Runs of the other trucks up to the cut.</param>
/// <param name="Pumps">The held-out pumps.</param>
internal sealed record HeldOutFold(DateTimeOffset Cut, List<IndicatorObservation> Training, List<HeldOutPump> Pumps);
