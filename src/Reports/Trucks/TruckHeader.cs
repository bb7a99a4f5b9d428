using OxyPlot;
using Vanehour.Models.Findings;
using Vanehour.Models.VaneWear;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Trucks;

/// <summary>The head of a truck's page: whose it is, the figures a planner looks for first, and what needs a person.</summary>
internal static class TruckHeader
{
    private const int FindingsShown = 4;
    private const double Left = HouseStyle.PageMargin;

    /// <returns>Where the head ends, layout units.</returns>
    public static double Draw(Page page, TruckScope scope, ReportOptions options)
    {
        var context = page.Context;
        var right = page.Bounds.Right - HouseStyle.PageMargin;
        var top = HouseStyle.PageMargin;
        var titleRight = SimulatedMark.Draw(context, options, right, top);
        var truck = scope.Data.Truck;
        var title = string.IsNullOrWhiteSpace(truck.Name) ? $"Truck {truck.Id}" : $"Truck {truck.Id} · {truck.Name}";
        context.Text(Left, top, context.Shorten(title, HouseStyle.PageTitle, titleRight - Left), HouseStyle.PageTitle);
        top += 34;

        var wear = scope.Data.Wear;
        var model = wear?.PumpModel ?? scope.Life?.PumpModel;
        var serial = wear?.PumpSerial ?? scope.Life?.PumpSerial;
        var pump = model is null ? "no pump on the truck" : $"Pump {model}, serial {serial}";
        var fitted = scope.Life is { } life ? $" · fitted {DateWords.Day(scope.Time.LocalOf(life.FittedAt))}" : string.Empty;
        context.Text(Left, top, context.Shorten($"Yard: {truck.Yard} · {pump}{fitted}", HouseStyle.Body, right - Left), HouseStyle.Body);
        top += 21;
        var asOf = $"As of {DateWords.DayAndTime(scope.Time.LocalOf(scope.Time.AsOf))} · dates in {scope.Time.ZoneName}";
        context.Text(Left, top, context.Shorten(asOf, HouseStyle.Note, right - Left), HouseStyle.Note);
        top += 23;

        var boxes = Figures(scope);
        var width = (right - Left - (12 * (boxes.Count - 1))) / boxes.Count;
        for (var i = 0; i < boxes.Count; i++)
        {
            var (name, value, detail, alarm) = boxes[i];
            var x = Left + (i * (width + 12));
            context.DrawRectangle(
                new OxyRect(x, top, width, 72),
                alarm ? HouseStyle.AlarmGround : HouseStyle.Ahead,
                alarm ? HouseStyle.Alarm : HouseStyle.Grid,
                alarm ? 1.6 : 1,
                EdgeRenderingMode.Automatic);
            context.Text(x + 8, top + 7, context.Shorten(name, HouseStyle.Note, width - 16), HouseStyle.Note);
            context.Text(x + 8, top + 26, context.Shorten(value, HouseStyle.Figure, width - 16), HouseStyle.Figure);
            context.Text(x + 8, top + 52, context.Shorten(detail, HouseStyle.Note, width - 16), HouseStyle.Note);
        }

        return Findings(context, scope, right, top + 82);
    }

    private static List<(string Name, string Value, string Detail, bool Alarm)> Figures(TruckScope scope)
    {
        var wear = scope.Data.Wear;
        var state = ForecastWords.State(wear);
        var hours = scope.HoursSinceFitting is { } h ? NumberWords.Whole(h) + " h" : "unknown";
        var usage = wear?.HoursPerDay is { } d && double.IsFinite(d) ? $"about {NumberWords.Fixed(d * 7, 0)} h a week" : "usage not known";
        var now = wear?.Wear is { } w ? NumberWords.Fixed(w.Mid, 2) : "not known";
        var range = wear?.Wear is { } r ? $"80 %: {NumberWords.Fixed(r.Low, 2)} to {NumberWords.Fixed(r.High, 2)}" : state ?? string.Empty;
        var date = wear?.DateOfLimit?.P50 is { } p50 ? ForecastWords.Date(p50, scope.Time) : "no date";
        var inHours = wear?.HoursToLimit?.P50 is { } left ? left <= 0 ? "most likely passed" : $"in about {NumberWords.Whole(left)} PTO h" : state ?? string.Empty;
        if (wear is { Status: ForecastStatus.Provisional, HoursToLimit.P50: { } guess })
        {
            inHours = guess <= 0 ? "passed? provisional" : $"{NumberWords.Whole(guess)} PTO h, provisional";
        }

        var findings = scope.Data.Findings;
        var stop = findings.Any(f => f.Urgency == Urgency.Stop);
        return
        [
            ("Since fitting", hours, usage, false),
            ("Wear now (1 = limit)", now, range, wear?.Wear is { Mid: >= 1 }),
            ("Limit, 50 % chance by", date, inHours, false),
            ("Open findings", findings.Count == 0 ? "none" : NumberWords.Whole(findings.Count), FindingWords.Urgencies(findings), stop),
        ];
    }

    private static double Findings(EmbeddedFontContext context, TruckScope scope, double right, double top)
    {
        var findings = scope.Data.Findings.OrderBy(f => f.Urgency).ToList();
        foreach (var finding in findings.Take(findings.Count > FindingsShown ? FindingsShown - 1 : FindingsShown))
        {
            var cause = finding.Causes is { IsDefaultOrEmpty: false } causes
                ? $"; likeliest cause: {FindingWords.Of(causes[0].Cause)} ({NumberWords.Percent(causes[0].Weight)})"
                : string.Empty;
            var seen = finding.Status == FindingStatus.Acknowledged ? ", acknowledged" : string.Empty;
            var text = $"{FindingWords.Capital(FindingWords.Of(finding.Kind))} since {DateWords.Day(scope.Time.LocalOf(finding.Since))}{seen}{cause}";
            var lead = FindingWords.Of(finding.Urgency) + ":";
            UrgencyMark.Draw(context, finding.Urgency, Left + 6, top + 7);
            context.Text(Left + 18, top, lead, HouseStyle.BodyStrong);
            var x = Left + 108;
            context.Text(x, top, context.Shorten(text, HouseStyle.Body, right - x), HouseStyle.Body);
            top += 21;
        }

        if (findings.Count > FindingsShown)
        {
            context.Text(Left + 18, top, "and more: " + FindingWords.Counts(findings.Skip(FindingsShown - 1)), HouseStyle.Note);
            top += 21;
        }

        return top + 6;
    }
}
