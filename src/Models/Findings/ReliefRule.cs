using Vanehour.Fleet;
using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Units;
using Vanehour.Models.Indicators;
using Vanehour.Models.Regression;

namespace Vanehour.Models.Findings;

/// <summary>The vacuum relief valve's setting has moved: start-up checks end at another vacuum than wanted.</summary>
/// <param name="options">From where on.</param>
/// <param name="shift">How a row of checks is followed.</param>
public sealed class ReliefRule(FindingOptions options, ShiftOptions shift) : IFindingRule
{
    // One check a day at best, so the newest must weigh more than a run does.
    private const double Lambda = 0.3;

    // Sampled every some seconds, a plateau is known to about this, kPa.
    private const double LeastSpreadKPa = 0.5;

    // Without a setting wanted, the first checks after fitting or setting say what it is.
    private const int FirstChecks = 10;

    // A higher reading among so many checks that follow shows that a level was the crew's, not the valve's. Invented.
    private const int ChecksAfter = 5;
    private const int ChecksBefore = 3;
    private const int FewestAfter = 2;
    private const double HigherKPa = 1;

    /// <inheritdoc/>
    public IEnumerable<FindingDraft> Look(PumpState state)
    {
        ArgumentNullException.ThrowIfNull(state);
        var set = state.Pump.Records.LastOrDefault(r => r.Kind == ServiceKind.ReliefVacuumSet);
        var from = set?.At ?? state.Pump.Life.FittedAt;
        if (state.DealtWith.TryGetValue(FindingKind.ReliefSettingMoved, out var dealtWith) && dealtWith > from)
        {
            from = dealtWith;
        }

        var checks = state.Pump.Runs.Where(r => r.Start >= from).Select(r => r.FirstPumpDown).OfType<PumpDown>().Where(d => d.IsStartUpCheck).ToList();
        var lifted = checks.Where((d, i) => d.EndedAtRelief && !IsOutdone(checks, i)).ToHashSet();
        var atRelief = checks.Where(lifted.Contains).Select(d => d.PlateauKPa).ToList();
        double? wanted = set?.ValueSi is { } pa
            ? Unit.Kilopascal.FromSi(pa)
            : state.Pump.Model.ReliefVacuum?.Kilopascals ?? (atRelief.Count >= FirstChecks ? Robust.Median(atRelief.Take(FirstChecks)) : null);
        if (wanted is not { } settingKPa)
        {
            yield break;
        }

        // A check that ends at the pump's own ultimate says nothing of the valve, unless it ends above the setting: then the valve did not lift.
        var telling = checks.Where(d => lifted.Contains(d) || d.PlateauKPa > settingKPa + options.ReliefKPa).ToList();
        if (telling.Count < 2)
        {
            yield break;
        }

        var steps = telling.Zip(telling.Skip(1), (a, b) => b.PlateauKPa - a.PlateauKPa).ToList();
        var spread = Math.Max(Robust.SpreadAboutZero(steps) / Math.Sqrt(2), LeastSpreadKPa);
        var states = ShiftTracker.Track(
            [.. telling.Select(d => new JudgedRun(d.Start, d.Start, d.PlateauKPa, settingKPa, spread, 0))],
            0,
            _ => options.ReliefKPa,
            shift with { Lambda = Lambda });
        var episode = Episode.Latest([.. states.Select(s => new Signpost(s.Run.Start, Math.Abs(s.Strength), s.RunShows != 0))]);
        if (episode is { ClosedAt: null })
        {
            var plateau = Robust.Median(telling.Where(d => d.Start >= episode.Since).TakeLast(FirstChecks).Select(d => d.PlateauKPa));
            yield return new FindingDraft(
                FindingKind.ReliefSettingMoved,
                episode.Since,
                plateau > state.Pump.Model.MaxVacuum.Kilopascals,
                [new Evidence("vacuum at which start-up checks end", plateau, "kPa", settingKPa - options.ReliefKPa, settingKPa + options.ReliefKPa)])
            {
                Side = plateau > settingKPa ? FindingSide.High : FindingSide.Low,
            };
        }
    }

    // A job begun without a check levels where the crew holds it, and looks like a valve set low, until a check goes higher: no valve had lifted there.
    // The latest readings have too few after them to tell; those just before must do.
    private static bool IsOutdone(List<PumpDown> checks, int index)
    {
        var after = checks.Skip(index + 1).Take(ChecksAfter).ToList();
        var others = after.Count >= FewestAfter ? after : [.. after, .. checks.Take(index).TakeLast(ChecksBefore)];
        return others.Any(o => o.PlateauKPa > checks[index].PlateauKPa + HigherKPa);
    }
}
