using Vanehour.Fleet;

namespace Vanehour.Models.Tests.Runs;

/// <summary>
/// A small synthetic truck for these tests: a tank that follows the pump-down model with noise, a meter, temperatures and oil. Its methods advance a clock and
/// add samples; the real simulator lives elsewhere.
/// </summary>
internal sealed class TruckFeed(int seed, string truck = "T01")
{
    private readonly Noise noise = new(seed);
    private double vacuumKPa;
    private double tempC = 15;
    private double oilL = 20;

    public List<Sample> Samples { get; } = [];

    public long NowMs { get; set; } = Register.Fitted.AddDays(1).ToUnixTimeMilliseconds();

    public double MeterH { get; set; } = 100;

    public double MeterStepH { get; set; } = 0.01;

    public double EveryS { get; set; } = 5;

    public double Flow { get; set; } = 1 / 60.0;

    public double Leak { get; set; } = 0.06 / 60;

    public double SpeedRpm { get; set; } = 1200;

    public double NoiseKPa { get; set; } = 0.2;

    public double ReliefKPa { get; set; } = 61;

    public double OilLPerH { get; set; } = 0.3;

    public double AmbientKPa { get; set; } = 101.325;

    /// <summary>What the barometer says; it wanders.</summary>
    public double BaroKPa { get; set; } = 101.325;

    /// <summary>Signals that this truck does not send.</summary>
    public HashSet<Signal> Missing { get; } = [Signal.Baro];

    /// <summary>Nothing is said for a while.</summary>
    public TruckFeed Silence(double minutes)
    {
        NowMs += (long)(minutes * 60_000);
        return this;
    }

    /// <summary>The power take-off is off and the truck says so.</summary>
    public TruckFeed Idle(double minutes, double everyS = 60) => Go(minutes * 60, everyS, engaged: false, pumping: false);

    /// <summary>Engaged with the valve in neutral.</summary>
    public TruckFeed Neutral(double seconds) => Go(seconds, EveryS, engaged: true, pumping: false);

    /// <summary>Engaged and pulling vacuum in a closed tank.</summary>
    public TruckFeed Pull(double seconds)
    {
        vacuumKPa = 0;
        return Go(seconds, EveryS, engaged: true, pumping: true);
    }

    /// <summary>A day's work: silence overnight, the start-up check, and some jobs.</summary>
    public TruckFeed Day(int jobs = 2)
    {
        Silence(noise.Uniform(600, 800)).Idle(2).Neutral(20).Pull(140).Neutral(noise.Uniform(300, 900)).Idle(noise.Uniform(5, 45));
        for (var i = 0; i < jobs; i++)
        {
            Neutral(30).Pull(noise.Uniform(200, 1500)).Neutral(60).Idle(noise.Uniform(3, 80));
        }

        return this;
    }

    private TruckFeed Go(double seconds, double everyS, bool engaged, bool pumping)
    {
        var end = NowMs + (long)(seconds * 1000);
        while (NowMs < end)
        {
            Say(engaged, pumping);
            var stepMs = Math.Min((long)(everyS * 1000), end - NowMs);
            NowMs += stepMs;
            Advance(stepMs / 1000.0, engaged, pumping);
        }

        return this;
    }

    private void Advance(double s, bool engaged, bool pumping)
    {
        if (engaged)
        {
            MeterH += s / 3600;
            oilL += OilLPerH * s / 3600;
        }

        tempC += ((engaged ? 75 : 15) - tempC) * (1 - Math.Exp(-s / 600));
        if (!pumping)
        {
            vacuumKPa = 0;
            return;
        }

        var ratio = SpeedRpm / 1200;
        var rate = (Flow * ratio) + Leak;
        var ultimate = AmbientKPa * Flow * ratio / rate;
        vacuumKPa = Math.Min(ultimate - ((ultimate - vacuumKPa) * Math.Exp(-rate * s)), ReliefKPa);
    }

    private void Say(bool engaged, bool pumping)
    {
        var values = SignalValues.Empty;
        Set(ref values, Signal.PtoHours, Math.Round(Math.Floor((MeterH / MeterStepH) + 1e-6) * MeterStepH, 4));
        Set(ref values, Signal.Pto, engaged ? 1 : 0);
        Set(ref values, Signal.Vacuum, vacuumKPa + noise.Normal(NoiseKPa));
        Set(ref values, Signal.PumpTemp, tempC + noise.Normal(0.2));
        Set(ref values, Signal.AmbientTemp, 15 + noise.Normal(0.1));
        Set(ref values, Signal.PumpSpeed, engaged ? (pumping ? SpeedRpm : 700) + noise.Normal(3) : 0);
        Set(ref values, Signal.OilUsed, Math.Round(oilL, 4));
        BaroKPa += noise.Normal(0.02);
        Set(ref values, Signal.Baro, BaroKPa);
        Samples.Add(new Sample(truck, NowMs, values));
    }

    private void Set(ref SignalValues values, Signal signal, double value)
    {
        if (!Missing.Contains(signal))
        {
            values.Set(signal, Math.Max(value, SignalInfo.Of(signal).Lowest));
        }
    }
}
