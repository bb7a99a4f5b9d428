using System.Globalization;
using System.Text;

namespace Vanehour.Bench.Faults.Feed;

/// <summary>One pack of a truck: ten instants. Either the pump's signals, or the ambient temperature of the same instants, which a gateway may send apart.</summary>
/// <param name="Truck">The truck's number, 0 to 99.</param>
/// <param name="FirstS">The first instant, Unix s.</param>
/// <param name="IsAmbient">Whether it carries the ambient temperature instead of the pump's signals.</param>
internal sealed record PlannedMessage(int Truck, long FirstS, bool IsAmbient)
{
    /// <summary>Instants in a pack.</summary>
    public const int Instants = 10;

    /// <summary>Between instants, s.</summary>
    public const int StepS = 10;

    public string Topic => $"fleet/{TruckId(Truck)}/pump";

    public static string TruckId(int truck) => truck.ToString("'T'00", CultureInfo.InvariantCulture);

    /// <summary>The SenML pack, written from the format's description and sharing no code with the decoder.</summary>
    public byte[] Encode()
    {
        var text = new StringBuilder("[");
        for (var i = 0; i < Instants; i++)
        {
            var atS = FirstS + (i * StepS);
            if (IsAmbient)
            {
                Add("ambient_temp", "Cel", FeedValues.AmbientTempC(Truck, atS));
            }
            else
            {
                Add("vacuum", "kPa", FeedValues.VacuumKPa(Truck, atS));
                Add("pump_temp", "Cel", FeedValues.PumpTempC(Truck, atS));
                Add("pto_hours", "h", FeedValues.PtoHoursH(Truck, atS));
            }

            void Add(string name, string unit, double value)
            {
                text.Append(text.Length == 1
                    ? string.Create(CultureInfo.InvariantCulture, $"{{\"bn\":\"{TruckId(Truck)}/\",\"bt\":{FirstS},")
                    : i == 0 ? ",{" : string.Create(CultureInfo.InvariantCulture, $",{{\"t\":{i * StepS},"));
                text.Append(CultureInfo.InvariantCulture, $"\"n\":\"{name}\",\"u\":\"{unit}\",\"v\":{value}}}");
            }
        }

        return Encoding.UTF8.GetBytes(text.Append(']').ToString());
    }
}
