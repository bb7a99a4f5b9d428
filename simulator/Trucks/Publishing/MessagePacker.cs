using System.Runtime.InteropServices;
using Vanehour.Simulator.Gateways;
using Vanehour.Simulator.Sensors;

namespace Vanehour.Simulator.Publishing;

/// <summary>Packs what one truck's gateway gathers into messages.</summary>
/// <param name="truck">The truck's id.</param>
/// <param name="packInstants">The fewest instants in a message, where the day has as many.</param>
internal sealed class MessagePacker(string truck, int packInstants) : IDisposable
{
    private SenMLEncoder? encoder;
    private SensorSet? encoded;

    /// <summary>The messages of a day in order of time, each ready to go out at its last instant by a right clock.</summary>
    public IEnumerable<SimulatedMessage> Pack(GatewayDay day)
    {
        if (!ReferenceEquals(encoded, day.Sensors) || encoder is null)
        {
            encoder?.Dispose();
            encoder = new SenMLEncoder(truck, day.Sensors);
            encoded = day.Sensors;
        }

        var readings = day.Readings;
        for (var from = 0; from < readings.Count;)
        {
            // What would be a small last pack joins the one before it.
            var count = readings.Count - from < 2 * packInstants ? readings.Count - from : packInstants;
            var payload = encoder.Encode(CollectionsMarshal.AsSpan(readings).Slice(from, count));
            var last = readings[from + count - 1].UnixS;
            yield return new SimulatedMessage(
                truck, encoder.Topic, payload, readings[from].UnixS * 1000, last * 1000, count, (last - day.ClockOffsetS) * 1000);
            from += count;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => encoder?.Dispose();
}
