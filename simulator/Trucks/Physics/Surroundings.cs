namespace Vanehour.Simulator.Physics;

/// <summary>The air round the truck.</summary>
/// <param name="AmbientC">Its temperature, Cel.</param>
/// <param name="BarometerKPa">Its pressure, kPa absolute; above 0.</param>
internal readonly record struct Surroundings(double AmbientC, double BarometerKPa);
