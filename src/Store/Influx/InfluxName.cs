using System.Globalization;
using System.Text;
using Vanehour.Fleet;

namespace Vanehour.Store.Influx;

/// <summary>
/// Truck ids as tag values. An id by the rules is its own tag value. Of any other, each byte of UTF-8 that the rules do not allow becomes
/// %XX: '%' is not allowed in an id, so no two ids meet, and nothing is left that line protocol cannot carry (a backslash at the end, a line break).
/// </summary>
internal static class InfluxName
{
    /// <summary>The tag value of a truck's id.</summary>
    public static string ToTag(string truck)
    {
        if (TruckId.IsValid(truck))
        {
            return truck;
        }

        var tag = new StringBuilder();
        foreach (var b in Encoding.UTF8.GetBytes(truck))
        {
            var c = (char)b;
            if (b < 128 && TruckId.IsValid([c]))
            {
                tag.Append(c);
            }
            else
            {
                tag.Append('%').Append(b.ToString("X2", CultureInfo.InvariantCulture));
            }
        }

        return tag.ToString();
    }
}
