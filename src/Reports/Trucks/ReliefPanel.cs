using OxyPlot;
using Vanehour.Models.Findings;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>The vacuum at which start-up checks ended, beside the relief setting wanted and the model's continuous limit.</summary>
internal static class ReliefPanel
{
    public static Panel Build(TruckScope scope)
    {
        var units = scope.Units;
        var symbol = DisplayUnits.SymbolOf(units.Vacuum);
        var plateaus = Plateaus(scope);
        var wanted = scope.Data.Model?.ReliefVacuum is { } w ? units.VacuumOf(w.Kilopascals) : (double?)null;
        var limit = scope.Data.Model is { } m ? units.VacuumOf(m.MaxVacuum.Kilopascals) : (double?)null;
        var scale = ValueScale.Readings(
            plateaus.Select(p => p.Point.Y),
            new[] { wanted, limit }.OfType<double>(),
            4);
        var model = PanelModel.Create(scope, scale);
        var alarms = PanelModel.AddAlarm(scope, model, FindingKind.ReliefSettingMoved, FindingKind.HeldAboveVacuumLimit);
        var labels = new List<PanelLabel>();
        if (limit is { } most)
        {
            model.AddLevel(most, LineStyle.Solid, HouseStyle.LimitLine, HouseStyle.Alarm);
            labels.Add(new PanelLabel($"continuous limit {NumberWords.Fixed(most, 1)} {symbol}", most, HouseStyle.Label));
        }

        if (wanted is { } set)
        {
            model.AddLevel(set, LineStyle.Dash, HouseStyle.LimitLine, HouseStyle.Ink);
            labels.Add(new PanelLabel($"relief wanted {NumberWords.Fixed(set, 1)} {symbol}", set, HouseStyle.Label));
        }

        var inside = plateaus.Where(p => scale.Holds(p.Point.Y)).ToList();
        var size = plateaus.Count > 400 ? 1.8 : 2.6;
        model.AddDots(inside.Where(p => p.AtRelief).Select(p => p.Point), size, HouseStyle.Data, OxyColors.Undefined);
        model.AddDots(inside.Where(p => !p.AtRelief).Select(p => p.Point), size, HouseStyle.Paper, HouseStyle.Data);
        var off = model.AddOffScale(plateaus.Select(p => p.Point), scale);

        return new Panel
        {
            Title = "Vacuum reached at start-up checks",
            Key = [.. KeyItem.OffScale(off), new(KeyMark.Dot, "level held"), new(KeyMark.Ring, "the pump's own highest")],
            AxisTitle = symbol,
            Share = 0.95,
            Model = model,
            Labels = [.. labels, .. PanelModel.AlarmLabels(alarms, scope, scale)],
            Empty = plateaus.Count == 0 ? "No start-up check in this time." : null,
        };
    }

    // Checks of earlier lives are known from runs only; of this life the forecast and the runs tell the same.
    private static List<(DataPoint Point, bool AtRelief)> Plateaus(TruckScope scope)
    {
        var seen = new SortedDictionary<DateTimeOffset, (double KPa, bool AtRelief)>();
        foreach (var check in scope.Data.Wear?.Checks ?? [])
        {
            seen[check.At] = (check.PlateauKPa, check.EndedAtRelief);
        }

        foreach (var fit in scope.Runs.Select(r => r.FirstPumpDown))
        {
            if (fit is { IsStartUpCheck: true })
            {
                seen.TryAdd(fit.Start, (fit.PlateauKPa, fit.EndedAtRelief));
            }
        }

        return [.. seen
            .Where(s => scope.Time.Shows(s.Key) && double.IsFinite(s.Value.KPa))
            .Select(s => (new DataPoint(scope.Time.DaysOf(s.Key), scope.Units.VacuumOf(s.Value.KPa)), s.Value.AtRelief))];
    }
}
