using Vanehour.Models.VaneWear;

namespace Vanehour.Models.PumpLives;

/// <summary>
/// Hours from fitting to the wear limit, by the forecasts of the pumps that run now: what lives would be if every pump were run to its limit. It stands beside lives from service
/// records, which look longer than they are where pumps are rebuilt because of their measured wear.
/// </summary>
/// <param name="Pumps">Pumps with a forecast that reaches the limit within its horizon.</param>
/// <param name="P10">10 % quantile between pumps of their median hours, h.</param>
/// <param name="P50">Median between pumps, h.</param>
/// <param name="P90">90 % quantile between pumps, h.</param>
public sealed record WearLife(int Pumps, double P10, double P50, double P90)
{
    /// <summary>Reads it; null where no pump of the model has a forecast.</summary>
    /// <param name="wear">The forecasts of the latest analysis.</param>
    /// <param name="pumpModel">The model.</param>
    public static WearLife? Of(IEnumerable<WearForecast> wear, string pumpModel)
    {
        ArgumentNullException.ThrowIfNull(wear);
        double[] hours = [.. wear.Where(w => w.PumpModel == pumpModel).Where(w => w.HoursToLimit?.P50 is not null).Select(w => w.HoursSinceFitting + w.HoursToLimit!.P50!.Value)];
        if (hours.Length == 0)
        {
            return null;
        }

        var (low, mid, high) = Quantiles.TenFiftyNinety(hours);
        return new WearLife(hours.Length, low, mid, high);
    }
}
