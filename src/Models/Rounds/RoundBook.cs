using System.Collections.Immutable;
using Vanehour.Fleet;
using Vanehour.Fleet.Register;
using Vanehour.Models.Findings;
using Vanehour.Store.Runs;

namespace Vanehour.Models.Rounds;

/// <summary>The rounds of a fleet, read truck by truck.</summary>
/// <param name="register">Trucks and service records.</param>
/// <param name="runs">The runs.</param>
/// <param name="options">How rounds are counted.</param>
public sealed class RoundBook(IFleetRegister register, IRunStore runs, RoundOptions options)
{
    private readonly RoundPlanner _planner = new(RoundTable.Default, options);

    /// <summary>The rounds as they stand at an instant, in order of truck.</summary>
    /// <param name="findings">The open findings, which pull checks forward.</param>
    /// <param name="now">The instant.</param>
    /// <param name="wanted">Which trucks; null for all.</param>
    /// <param name="cancellationToken">Stops between trucks.</param>
    public ImmutableArray<TruckRounds> Read(IReadOnlyList<Finding> findings, DateTimeOffset now, Func<Truck, bool>? wanted = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var rounds = ImmutableArray.CreateBuilder<TruckRounds>();
        foreach (var truck in register.Trucks().Where(wanted ?? (_ => true)))
        {
            cancellationToken.ThrowIfCancellationRequested();
            rounds.Add(_planner.Plan(truck, register.ServiceRecords(truck.Id), runs.Read(truck.Id), findings, now));
        }

        return rounds.ToImmutable();
    }
}
