using System.Security.Cryptography;
using System.Text;
using Vanehour.Fleet;

namespace Vanehour.Reports;

/// <summary>Names of report files. The prefix keeps ids such as ".." or names that some systems reserve from meaning anything to a file system.</summary>
public static class ReportFileName
{
    /// <summary>The name of a truck's page: truck-ID.png.</summary>
    /// <exception cref="ArgumentException">The id breaks the rule for ids, so it could hold a path.</exception>
    public static string OfTruck(string truck) => $"truck-{Checked(truck)}.png";

    /// <summary>The name of the page of a truck whose id differs from another's by case only: truck-ID~HASH.png.</summary>
    /// <exception cref="ArgumentException">The id breaks the rule for ids, so it could hold a path.</exception>
    public static string OfTruckSharingLetters(string truck)
    {
        var hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Checked(truck))))[..8];
        return $"truck-{truck}~{hash}.png";
    }

    /// <summary>The name of a truck's sheet of rounds: rounds-ID.png, or rounds-ID~HASH.png where another id differs by case only.</summary>
    /// <exception cref="ArgumentException">The id breaks the rule for ids, so it could hold a path.</exception>
    public static string OfRounds(string truck, bool sharesLetters) => "rounds-" + (sharesLetters ? OfTruckSharingLetters(truck) : OfTruck(truck))["truck-".Length..];

    private static string Checked(string truck) => TruckId.IsValid(truck)
        ? truck
        : throw new ArgumentException("The truck's id holds other characters than letters, digits, '-', '_' and '.', or is too long.", nameof(truck));
}
