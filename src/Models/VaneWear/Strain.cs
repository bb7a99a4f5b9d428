namespace Vanehour.Models.VaneWear;

/// <summary>What may speed up wear over some hours, about the fleet's mean; or what each of it does to ln rate.</summary>
/// <param name="Speed">ln of pump speed over the model's rated speed, 1; or change of ln rate per unit of it.</param>
/// <param name="Heat">Share of the hours in which the pump was hot, 0..1; or change of ln rate from never to always.</param>
/// <param name="Oil">Share of the hours under poor lubrication, 0..1; or change of ln rate from never to always.</param>
internal readonly record struct Strain(double Speed, double Heat, double Oil)
{
    /// <summary>How many there are.</summary>
    public const int Count = 3;

    public double this[int index] => index switch
    {
        0 => Speed,
        1 => Heat,
        _ => Oil,
    };

    public static Strain Of(IReadOnlyList<double> values) => new(values[0], values[1], values[2]);

    public Strain Less(Strain other) => new(Speed - other.Speed, Heat - other.Heat, Oil - other.Oil);

    /// <summary>Change of ln rate.</summary>
    public double Times(Strain effect) => (Speed * effect.Speed) + (Heat * effect.Heat) + (Oil * effect.Oil);
}
