using Vanehour.Fleet.Runs;

namespace Vanehour.Models.VaneWear;

/// <summary>A start-up check as the wear fit reads it.</summary>
/// <param name="HoursH">PTO hours since fitting, h.</param>
/// <param name="FlowPerS">Net flow over gas volume at the reference vacuum, 1/s.</param>
/// <param name="FlowSe">Its standard error, 1/s.</param>
/// <param name="Source">The pump-down.</param>
public sealed record WearCheck(double HoursH, double FlowPerS, double FlowSe, PumpDown Source);
