using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Simulator.Randomness;

namespace Vanehour.Simulator.Sensors;

/// <summary>The sensors of one truck; a signal without one is never sent. Noise and steps are invented, of the size of common industrial sensors.</summary>
internal sealed class SensorSet
{
    // Places in the pattern of twelve whose gateway sends no pto, no pump_speed, or the reservoir's level in place of a metered feed.
    private const int SlotWithoutEngagement = 10;
    private const int SlotWithoutSpeed = 11;

    private readonly Sensor?[] sensors = new Sensor?[SignalInfo.Count];

    private SensorSet(IEnumerable<Sensor> fitted)
    {
        foreach (var sensor in fitted)
        {
            sensors[(int)sensor.Signal] = sensor;
        }
    }

    /// <summary>The sensor of a signal, or null.</summary>
    public Sensor? this[Signal signal] => sensors[(int)signal];

    /// <summary>The same set with one sensor in the place of that of its signal.</summary>
    public SensorSet With(Sensor sensor) => new([.. sensors.OfType<Sensor>().Where(s => s.Signal != sensor.Signal), sensor]);

    /// <summary>Fits out truck number <paramref name="index"/>: units and missing signals follow a fixed pattern, gain and zero its random stream.</summary>
    /// <param name="index">0 for the first truck.</param>
    /// <param name="slot">Its place in the pattern of twelve, 0..11.</param>
    /// <param name="random">The truck's identity stream.</param>
    public static SensorSet Fit(int index, int slot, SeededRandom random)
    {
        var gain = 1 + (0.005 * random.Normal());
        var zero = 0.1 * random.Normal();
        var style = index % 3;
        var pressure = style == 1 ? Unit.Kilopascal : Unit.Psi;
        var vacuum = style == 1 ? Unit.Kilopascal : Unit.InchOfMercury;
        var temperature = style == 0 ? Unit.Fahrenheit : Unit.Celsius;
        var oil = style == 0 ? Unit.Quart : Unit.Litre;

        var fitted = new List<Sensor>
        {
            new(Signal.PtoHours, Unit.Hour, 100),
            new(Signal.Vacuum, vacuum, style == 1 ? 10 : 20, 0.15, gain, zero),
            new(Signal.Pressure, pressure, style == 1 ? 2 : 10, 0.3, gain, zero),
            new(Signal.PumpTemp, temperature, 10, 0.3),
            new(Signal.AmbientTemp, temperature, 10, 0.2),
        };
        if (slot != SlotWithoutEngagement)
        {
            fitted.Add(new(Signal.Pto, Unit.Flag, 1));
        }

        if (slot != SlotWithoutSpeed)
        {
            fitted.Add(new(Signal.PumpSpeed, style == 2 ? Unit.Rpm : Unit.PerMinute, 1, 3));
        }

        fitted.Add(slot is 7 or 8
            ? new(Signal.OilLevel, oil, 50, 0.03)
            : new(Signal.OilUsed, oil, 1000));
        if (slot % 3 == 1)
        {
            fitted.Add(new(Signal.Baro, style == 2 ? Unit.Hectopascal : Unit.Kilopascal, style == 2 ? 10 : 100, 0.03));
        }

        return new SensorSet(fitted);
    }

    /// <summary>Reads every sensor that the scope asks for.</summary>
    /// <param name="truth">What is, in canonical units; no slot empty.</param>
    /// <param name="scope">Which signals.</param>
    /// <param name="random">The truck's sensor stream.</param>
    /// <param name="gaugeStuck">Whether the vacuum gauge shows what it is given without any noise.</param>
    public SignalValues Read(in SignalValues truth, ReadingScope scope, SeededRandom random, bool gaugeStuck = false)
    {
        var sent = SignalValues.Empty;
        for (var i = 0; i < sensors.Length; i++)
        {
            if (sensors[i] is { } sensor && Asked((Signal)i, scope, truth))
            {
                // A shaft at rest reads exactly 0.
                var quiet = sensor.NoiseSd == 0 || (sensor.Signal == Signal.PumpSpeed && truth[i] == 0) || (gaugeStuck && sensor.Signal == Signal.Vacuum);
                sent[i] = sensor.Read(truth[i], quiet ? 0 : random.Normal());
            }
        }

        return sent;
    }

    /// <summary>A sent set in canonical units.</summary>
    public SignalValues ToCanonical(in SignalValues sent)
    {
        var canonical = sent;
        for (var i = 0; i < sensors.Length; i++)
        {
            if (sensors[i] is { } sensor && !double.IsNaN(sent[i]))
            {
                canonical[i] = sensor.ToCanonical(sent[i]);
            }
        }

        return canonical;
    }

    private bool Asked(Signal signal, ReadingScope scope, in SignalValues truth) => signal switch
    {
        Signal.Pto => true,
        Signal.Vacuum => scope == ReadingScope.Full || truth[(int)Signal.Pressure] <= 0.5,
        Signal.Pressure => scope == ReadingScope.Full || truth[(int)Signal.Pressure] > 0.5,

        // Where nothing says whether the power take-off is engaged, the gateway sends the speed every time.
        Signal.PumpSpeed => scope != ReadingScope.Fast || this[Signal.Pto] is null,
        _ => scope == ReadingScope.Full,
    };
}
