using Vanehour.Fleet;
using Vanehour.Fleet.Units;

namespace Vanehour.Simulator.Sensors;

/// <summary>How one signal of one truck is measured and sent.</summary>
/// <param name="Signal">Which.</param>
/// <param name="Unit">The unit it is sent in.</param>
/// <param name="StepsPerUnit">How many quantisation steps make one unit; above 0.</param>
/// <param name="NoiseSd">Standard deviation of the noise, in the canonical unit; 0 for counters.</param>
/// <param name="Gain">What the sensor shows over what is.</param>
/// <param name="Zero">What it shows when there is nothing, in the canonical unit.</param>
internal sealed record Sensor(Signal Signal, Unit Unit, double StepsPerUnit, double NoiseSd = 0, double Gain = 1, double Zero = 0)
{
    private readonly SignalInfo info = SignalInfo.Of(Signal);

    /// <summary>The value as sent.</summary>
    /// <param name="truth">What is, in the canonical unit.</param>
    /// <param name="standardNormal">A draw for the noise.</param>
    public double Read(double truth, double standardNormal)
    {
        var seen = Math.Clamp((truth * Gain) + Zero + (NoiseSd * standardNormal), info.Lowest, info.Highest);
        var steps = info.Unit.ConvertTo(Unit, seen) * StepsPerUnit;

        // A counter shows completed steps only; a quotient of whole numbers is the double nearest to the decimal, so it is written short.
        return (NoiseSd == 0 ? Math.Floor(steps + 1e-9) : Math.Round(steps)) / StepsPerUnit;
    }

    /// <summary>A sent value in the canonical unit.</summary>
    public double ToCanonical(double sent) => Unit.ConvertTo(info.Unit, sent);
}
