using MathNet.Numerics.Distributions;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Models.Findings;
using Vanehour.Models.Planning;
using Vanehour.Models.VaneWear;

namespace Vanehour.Models.Tests.Planning;

/// <summary>Forecasts made up for plans: the limit comes so many weeks from now, give or take.</summary>
internal sealed class PlanFleet
{
    /// <summary>A Monday.</summary>
    public static readonly DateTimeOffset Now = new(2026, 6, 1, 6, 0, 0, TimeSpan.Zero);

    private readonly List<WearForecast> _wear = [];
    private readonly List<Truck> _trucks = [];

    public List<PlanMark> Marks { get; } = [];

    public List<Finding> Findings { get; } = [];

    public static PlanWeek First => PlanWeek.Of(Now);

    /// <param name="truck">Its id.</param>
    /// <param name="limitWeeks">Median weeks to the limit.</param>
    /// <param name="spread">Standard deviation of its logarithm.</param>
    /// <param name="yard">Its yard.</param>
    /// <param name="model">Its pump model.</param>
    public PlanFleet With(string truck, double limitWeeks, double spread = 0.2, string yard = "North", string model = "Alder 400")
    {
        _trucks.Add(new Truck
        {
            Id = truck,
            Yard = yard,
            PumpModel = model,
            PumpSerial = "P-" + truck,
            PumpFitted = Now.AddDays(-400),
            MeterAtFittingH = 0,
            TankVolume = Volume.FromLitres(9000),
            TimeZone = "UTC",
        });
        _wear.Add(new WearForecast
        {
            Truck = truck,
            PumpSerial = "P-" + truck,
            PumpModel = model,
            AsOf = Now,
            HoursSinceFitting = 800,
            HoursToLimit = new HourQuantiles(20 * limitWeeks * 0.8, 20 * limitWeeks, 20 * limitWeeks * 1.25),
            DateOfLimit = new DateQuantiles(null, Now.AddDays(7 * limitWeeks), null),
            HoursPerDay = 20 / 7.0,
            Chances = [.. Enumerable.Range(0, 105).Select(w => new LimitChance(Now.AddDays(7 * w), By(w, limitWeeks), By(w, 1.15 * limitWeeks)))],
            Observations = 50,
            Status = ForecastStatus.Forecast,
            FlowKeptLimit = 0.7,
            Checks = [],
            Fan = [],
            Remarks = [],
        });
        return this;

        double By(double weeks, double median) => weeks == 0 ? 0 : Normal.CDF(0, 1, Math.Log(weeks / median) / spread);
    }

    public PlanFleet Change(string truck, Func<WearForecast, WearForecast> change)
    {
        var at = _wear.FindIndex(w => w.Truck == truck);
        _wear[at] = change(_wear[at]);
        return this;
    }

    public PlanFleet Pin(string truck, int week, int at = 0)
    {
        Marks.Add(new PlanMark { Id = Marks.Count + 1, Kind = PlanMarkKind.Pin, Truck = truck, From = First.Plus(week), To = First.Plus(week), By = "Ann", At = Now.AddHours(at - 100) });
        return this;
    }

    public PlanFleet Block(int from, int to, string? yard = null, string? truck = null)
    {
        Marks.Add(new PlanMark { Id = Marks.Count + 1, Kind = PlanMarkKind.Block, Truck = truck, Yard = yard, From = First.Plus(from), To = First.Plus(to), At = Now.AddHours(-50) });
        return this;
    }

    public PlanInput Input(RebuildPlan? previous = null) => new()
    {
        AsOf = Now,
        MadeAt = Now,
        Wear = _wear,
        Trucks = _trucks,
        Findings = Findings,
        FittedAt = _trucks.ToDictionary(t => t.Id, t => t.PumpFitted),
        Marks = Marks,
        Previous = previous,
    };
}
