namespace Vanehour.Simulator.Physics;

/// <summary>A spring-loaded relief valve: opens at its cracking point, passes in proportion to what is above its reseating point, shuts below that.</summary>
internal sealed class ReliefValve
{
    /// <summary>How far it reseats below cracking, kPa; invented, a small fraction of the setting as springs and seats give.</summary>
    public const double ReseatBelowKPa = 0.4;

    /// <summary>How far above reseating the whole flow of a new pump lifts it, kPa; invented.</summary>
    public const double FullLiftKPa = 0.9;

    /// <summary>Whether it is off its seat.</summary>
    public bool IsOpen { get; private set; }

    /// <summary>The cracking point that makes a new pump settle at a setting read on the gauge.</summary>
    public static double CrackFor(double settingKPa) => settingKPa + ReseatBelowKPa - FullLiftKPa;

    /// <summary>Lifts or shuts.</summary>
    /// <param name="gaugeKPa">What presses on it.</param>
    /// <param name="crackKPa">Where it cracks now.</param>
    public void Set(double gaugeKPa, double crackKPa) => IsOpen = gaugeKPa > (IsOpen ? crackKPa - ReseatBelowKPa : crackKPa);

    public ReliefValve Clone() => (ReliefValve)MemberwiseClone();
}
