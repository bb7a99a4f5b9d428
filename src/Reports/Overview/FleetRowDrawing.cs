using OxyPlot;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Overview;

/// <summary>Draws one row of the overview in two lines: marks above, words below.</summary>
internal sealed class FleetRowDrawing(EmbeddedFontContext context, TimeScale time)
{
    private const double Line = 18;
    private const EdgeRenderingMode Edges = EdgeRenderingMode.Automatic;

    public void Draw(FleetRow row, double top, double height)
    {
        var y = top + ((height - (2 * Line)) / 2);
        var name = string.IsNullOrWhiteSpace(row.Truck.Name) ? row.Truck.Id : $"{row.Truck.Id} · {row.Truck.Name}";
        context.Text(FleetColumns.Truck, y + 2, context.Shorten(name, HouseStyle.BodyStrong, FleetColumns.TruckWidth), HouseStyle.BodyStrong);
        var hours = row.Wear is { } wear ? $"{NumberWords.Whole(wear.HoursSinceFitting)} h since fitting" : "hours unknown";
        context.Text(FleetColumns.Truck, y + Line + 3, context.Shorten(hours, HouseStyle.Note, FleetColumns.TruckWidth), HouseStyle.Note);
        DrawFindings(row.Findings, y);
        DrawWear(row.Wear, y);
        DrawLimit(row, y);
        DrawState(FleetColumns.Oil, y, row.Oil, "high");
        DrawState(FleetColumns.Temperature, y, row.Temperature, "hot");
    }

    private void DrawFindings(IReadOnlyList<Finding> findings, double y)
    {
        if (findings.Count == 0)
        {
            context.Text(FleetColumns.Findings + 16, y + 2, "none open", HouseStyle.Note);
            return;
        }

        for (var i = 0; i < Math.Min(2, findings.Count); i++)
        {
            var more = i == 1 && findings.Count > 2 ? $" +{NumberWords.Whole(findings.Count - 2)}" : string.Empty;
            var style = findings[i].Urgency == Urgency.Stop ? HouseStyle.Label : HouseStyle.Note;
            var room = FleetColumns.FindingsWidth - 16 - context.Width(more, style);
            UrgencyMark.Draw(context, findings[i].Urgency, FleetColumns.Findings + 6, y + 8 + (i * Line));
            context.Text(FleetColumns.Findings + 16, y + 2 + (i * Line), context.Shorten(FindingWords.Of(findings[i].Kind), style, room) + more, style);
        }
    }

    private void DrawWear(WearForecast? wear, double y)
    {
        if (wear?.Wear is not { } now || !double.IsFinite(now.Mid))
        {
            context.Text(FleetColumns.Wear, y + 2, "not known", HouseStyle.Note);
            return;
        }

        var low = X(double.IsFinite(now.Low) ? now.Low : 0);
        var high = X(double.IsFinite(now.High) ? now.High : FleetColumns.HighestWear);
        var x = X(now.Mid);
        FleetMarks.Wear(context, low, x, high, y + 8.5, now.Mid >= 1 ? HouseStyle.Alarm : HouseStyle.Data);

        // The number goes under its bar, on its own side of the limit.
        var words = NumberWords.Fixed(now.Mid, 2);
        var half = context.Width(words, HouseStyle.Label) / 2;
        var limit = X(1);
        var middle = now.Mid >= 1 ? Math.Max(x, limit + half + 5) : Math.Clamp(x, FleetColumns.Wear - 6 + half, limit - half - 5);
        context.Text(middle, y + Line + 2, words, HouseStyle.Label, HorizontalAlignment.Center);

        static double X(double value) =>
            FleetColumns.Wear + (Math.Clamp(value, 0, FleetColumns.HighestWear) / FleetColumns.HighestWear * FleetColumns.WearWidth);
    }

    private void DrawLimit(FleetRow row, double y)
    {
        var wear = row.Wear;
        if (wear?.DateOfLimit is not { } limit || limit is { P10: null, P50: null, P90: null })
        {
            context.Text(FleetColumns.Limit + 5, y + 2, ForecastWords.State(wear) ?? "no date", HouseStyle.Note);
            return;
        }

        var left = X(limit.P10 ?? limit.P50 ?? limit.P90);
        var right = X(limit.P90);
        var provisional = wear.Status == ForecastStatus.Provisional;
        if (left < FleetColumns.Limit + FleetColumns.LimitWidth)
        {
            FleetMarks.Line(context, left, right, y + 8.5, provisional);
        }

        if (limit.P90 is not { } last || last > time.To)
        {
            FleetMarks.Arrow(context, FleetColumns.Limit + FleetColumns.LimitWidth, y + 8.5);
        }

        var median = limit.P50;
        var shown = median is { } m && m <= time.To;
        var x = shown ? X(median) : FleetColumns.Limit + FleetColumns.LimitWidth;
        if (shown)
        {
            FleetMarks.Diamond(context, x, y + 8.5, provisional);
        }

        // The date that the truck's own page gives, in the zone of its yard.
        var own = new TimeScale(TimeScale.Zone(row.Truck.TimeZone), time.From, time.AsOf, time.To);
        var words = ForecastWords.Date(median, own) + (provisional ? ", provisional" : string.Empty);
        var style = provisional ? HouseStyle.Note : HouseStyle.Label;
        words = context.Shorten(words, style, FleetColumns.LimitWidth - 6);
        var half = context.Width(words, style) / 2;
        var middle = Math.Clamp(x, FleetColumns.Limit + 5 + half, FleetColumns.Limit + FleetColumns.LimitWidth - 1 - half);
        context.Text(middle, y + Line + 2, words, style, HorizontalAlignment.Center);

        double X(DateTimeOffset? at) => FleetColumns.Limit
            + (Math.Clamp(((at ?? time.To) - time.From) / (time.To - time.From), 0, 1) * FleetColumns.LimitWidth);
    }

    private void DrawState(double x, double y, IndicatorState state, string high)
    {
        const double R = 6;
        var middle = y + 8.5;
        switch (state)
        {
            case IndicatorState.High:
                context.DrawPolygon([new(x, middle - R), new(x + R, middle + R), new(x - R, middle + R)], HouseStyle.Alarm, OxyColors.Undefined, 0, Edges);
                break;
            case IndicatorState.Low:
                context.DrawPolygon([new(x, middle + R), new(x + R, middle - R), new(x - R, middle - R)], HouseStyle.Alarm, OxyColors.Undefined, 0, Edges);
                break;
            case IndicatorState.Normal:
                context.DrawEllipse(new OxyRect(x - 4, middle - 4, 8, 8), HouseStyle.DataFaint, OxyColors.Undefined, 0, Edges);
                break;
            case IndicatorState.Young:
                context.DrawEllipse(new OxyRect(x - 4, middle - 4, 8, 8), HouseStyle.Paper, HouseStyle.DataFaint, 1.5, Edges);
                break;
            default:
                context.DrawLine([new(x - 5, middle), new(x + 5, middle)], HouseStyle.Axis, 1.5, Edges);
                break;
        }

        var (words, style) = state switch
        {
            IndicatorState.High => (high, HouseStyle.Label),
            IndicatorState.Low => ("low", HouseStyle.Label),
            IndicatorState.Normal => ("normal", HouseStyle.Small),
            IndicatorState.Young => ("young", HouseStyle.Small),
            _ => ("no data", HouseStyle.Small),
        };
        context.Text(x, y + Line + 3, words, style, HorizontalAlignment.Center);
    }
}
