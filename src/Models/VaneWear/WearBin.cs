namespace Vanehour.Models.VaneWear;

/// <summary>Some neighbouring start-up checks of one life taken together.</summary>
/// <param name="Channel">Which reading.</param>
/// <param name="HoursH">Their mean hours since fitting, h.</param>
/// <param name="Value">The reading.</param>
/// <param name="Sd">Its standard error by the scatter of the checks among themselves.</param>
/// <param name="AmbientC">Their mean ambient temperature, Cel; null where it is not known.</param>
/// <param name="StepsBefore">How many of the life's steps bear on it.</param>
internal readonly record struct WearBin(WearChannel Channel, double HoursH, double Value, double Sd, double? AmbientC, int StepsBefore);
