using Vanehour.Models.Analysis;

namespace Vanehour.Models.VaneWear;

/// <summary>Reads the wear of every running pump from the fleet's start-up checks, and projects it to the limit.</summary>
public interface IWearModel
{
    /// <summary>Forecasts. A pure function of its arguments.</summary>
    /// <param name="data">The fleet; past lives lend baselines and rates.</param>
    /// <param name="seed">Of the generators; each pump has its own, so one truck more or less changes no other's draws.</param>
    /// <param name="cancellationToken">Stops between pumps.</param>
    /// <returns>One for each running pump, in order of truck.</returns>
    IReadOnlyList<WearResult> Forecast(FleetData data, ulong seed, CancellationToken cancellationToken);
}
