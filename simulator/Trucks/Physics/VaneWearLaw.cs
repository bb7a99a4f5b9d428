namespace Vanehour.Simulator.Physics;

/// <summary>
/// How fast vanes wear: by sliding distance (speed), load, lubrication and heat, faster while they bed in and faster again when they have become narrow.
/// All rates are invented, of the size the trade would find plausible.
/// </summary>
internal static class VaneWearLaw
{
    /// <summary>Wear from which the vanes tilt in their slots and wear faster and faster.</summary>
    public const double LateFrom = 0.8;

    private const double BreakInExcess = 0.6;
    private const double BreakInH = 60;
    private const double LatePerWear = 3;

    private const double UnloadedShare = 0.65;
    private const double HotAboveCoreC = 123;

    /// <summary>Wear per PTO hour over the model's steady rate.</summary>
    /// <param name="wear">Wear now.</param>
    /// <param name="hours">PTO hours since fitting.</param>
    /// <param name="speed">Speed over rated speed.</param>
    /// <param name="load">Difference of pressure across the pump over <see cref="PumpBuild.UsualLoadKPa"/>.</param>
    public static double Rate(double wear, double hours, double speed, double load) =>
        speed
        * (UnloadedShare + ((1 - UnloadedShare) * load))
        * (1 + (BreakInExcess * Math.Exp(-hours / BreakInH)))
        * (1 + (LatePerWear * Math.Max(0, wear - LateFrom)));

    /// <summary>By how much want of oil and heat raise it; 1 in health.</summary>
    /// <param name="shortage">Want of oil film, 0..1.</param>
    /// <param name="coreC">Temperature of vanes and rotor, Cel.</param>
    public static double Stress(double shortage, double coreC) => (1 + (5.5 * shortage)) * (1 + (0.02 * Math.Max(0, coreC - HotAboveCoreC)));

    /// <summary>Wear of a healthy pump of an age at rated speed and usual load.</summary>
    /// <param name="hours">PTO hours since fitting.</param>
    /// <param name="hoursPerWear">The model's steady life over this life's own factor, h.</param>
    public static double At(double hours, double hoursPerWear)
    {
        var straight = (hours + (BreakInExcess * BreakInH * (1 - Math.Exp(-hours / BreakInH)))) / hoursPerWear;
        return straight <= LateFrom ? straight : LateFrom + ((Math.Exp(LatePerWear * (straight - LateFrom)) - 1) / LatePerWear);
    }

    /// <summary>PTO hours from fitting to a wear in health at rated speed and usual load; the inverse of <see cref="At"/> once bedded in.</summary>
    public static double HoursTo(double wear, double hoursPerWear)
    {
        var straight = wear <= LateFrom ? wear : LateFrom + (Math.Log(1 + (LatePerWear * (wear - LateFrom))) / LatePerWear);
        return (straight * hoursPerWear) - (BreakInExcess * BreakInH);
    }
}
