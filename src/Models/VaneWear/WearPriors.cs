using Vanehour.Models.Analysis;
using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>What other lives lend to a pump: its flow as new and its wear rate.</summary>
internal static class WearPriors
{
    private const int FewestPeerBaselines = 2;
    private const int FewestPeerRates = 3;

    // Net flow at the default reference vacuum over rated flow for a new pump whose ultimate is nine tenths of ambient; a value of our own.
    private const double NetOverRated = 0.93;

    /// <summary>The flow as new of a pump whose own first checks are not known.</summary>
    public static Baseline Baseline(PumpHistory pump, IReadOnlyList<LearnedLife> learned, WearOptions options)
    {
        var earlier = learned.LastOrDefault(l => l.Pump.Truck.Id == pump.Truck.Id
            && l.Pump.Life.FittedAt < pump.Life.FittedAt
            && l.Pump.Life.PumpSerial == pump.Life.PumpSerial);
        if (earlier is not null)
        {
            return new Baseline(
                BaselineSource.EarlierLife, earlier.BaselinePerS, Math.Sqrt(Square(earlier.BaselineRelativeSd) + Square(options.CarriedBaselineSd)));
        }

        var ratios = learned
            .Where(l => l.Pump.Model.Model == pump.Model.Model && l.Pump.Truck.Id != pump.Truck.Id)
            .GroupBy(l => l.Pump.Truck.Id, StringComparer.Ordinal)
            .Select(ofTruck => Robust.Median(ofTruck.Select(l => l.BaselinePerS / Nominal(l.Pump))))
            .ToList();
        return ratios.Count >= FewestPeerBaselines
            ? new Baseline(BaselineSource.Peers, Robust.Median(ratios) * Nominal(pump), Math.Max(options.PeerBaselineSd, Robust.Spread(ratios)))
            : new Baseline(BaselineSource.Nameplate, NetOverRated * Nominal(pump), options.NameplateBaselineSd);
    }

    /// <summary>The wear rate of a pump without peers.</summary>
    public static RatePrior OpenRate(WearOptions options) => new(0, options.RateSdPer1000H);

    /// <summary>The wear rate of a pump before its checks. Peers' rates pull gently: their spread is doubled and is at least three quarters of their median.</summary>
    public static RatePrior Rate(PumpHistory pump, IReadOnlyList<LearnedLife> learned, WearOptions options)
    {
        var rates = learned
            .Where(l => l.Pump.Model.Model == pump.Model.Model && l.Pump.Truck.Id != pump.Truck.Id && l.RatePer1000H is not null)
            .Select(l => l.RatePer1000H!.Value)
            .ToList();
        if (rates.Count < FewestPeerRates)
        {
            return OpenRate(options);
        }

        var median = Robust.Median(rates);
        return median > 0 ? new RatePrior(median, Math.Max(2 * Robust.Spread(rates), 0.75 * median)) : OpenRate(options);
    }

    private static double Nominal(PumpHistory pump) => pump.Model.FreeAir.Si / pump.Truck.TankVolume.Si;

    private static double Square(double x) => x * x;
}
