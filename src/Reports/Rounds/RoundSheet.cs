using Vanehour.Fleet;
using Vanehour.Models.Rounds;
using Vanehour.Reports.Drawing;
using Vanehour.Reports.Time;
using Vanehour.Reports.Words;

namespace Vanehour.Reports.Rounds;

/// <summary>One page to print and take to the truck: what the data asks for now, then each round with boxes to tick, who signs, and the cautions.</summary>
/// <remarks>
///     head: truck, yard, pump, as of; date and meter to write in
///     now: checks that findings pull forward, with the reason
///     daily | weekly | monthly | by PTO hours: box, check, last done, due
///     name and signature
///     cautions
/// </remarks>
public static class RoundSheet
{
    private const double Left = HouseStyle.PageMargin;
    private const double Right = HouseStyle.PageWidth - HouseStyle.PageMargin;

    /// <summary>Draws the sheet as PNG. The same input gives the same bytes.</summary>
    /// <param name="rounds">The truck's rounds.</param>
    /// <param name="options">How to draw it.</param>
    /// <returns>A PNG of 800 x 1100 layout units.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The scale is not between 1 and 4.</exception>
    public static byte[] Render(TruckRounds rounds, ReportOptions options)
    {
        using var page = Draw(rounds, options);
        return page.ToPng();
    }

    /// <summary>Draws SVG to stand in a web page: the same drawing as <see cref="Render"/>. The same input gives the same text.</summary>
    /// <param name="rounds">The truck's rounds.</param>
    /// <param name="options">How to draw it; <see cref="ReportOptions.Scale"/> has no meaning here.</param>
    /// <param name="caption">Its ids and its words.</param>
    public static string RenderSvg(TruckRounds rounds, ReportOptions options, SvgCaption caption)
    {
        ArgumentNullException.ThrowIfNull(caption);
        using var page = Draw(rounds, options, PageFormat.Vector);
        return page.ToSvg(caption);
    }

    internal static Page Draw(TruckRounds rounds, ReportOptions options, PageFormat? format = null)
    {
        ArgumentNullException.ThrowIfNull(rounds);
        ArgumentNullException.ThrowIfNull(options);
        options.CheckScale();

        var page = new Page(HouseStyle.PageWidth, HouseStyle.PageHeight, format ?? PageFormat.Pixels(options.Scale));
        var context = page.Context;
        var zone = TimeScale.Zone(rounds.Truck.TimeZone);
        var top = DrawHead(context, rounds, options, zone);
        var bottom = RoundSheetFoot.Draw(page, rounds);
        var sections = Sections(rounds).ToList();
        var pitch = Math.Min(RoundSheetSection.WidestPitch, (bottom - top) / Math.Max(1, sections.Sum(s => s.Lines)));
        foreach (var section in sections)
        {
            top = section.Draw(context, zone, top, pitch);
        }

        RoundSheetFoot.Lines(context, "Found", top + 16, bottom);

        return page;
    }

    private static IEnumerable<RoundSheetSection> Sections(TruckRounds rounds)
    {
        var pulled = rounds.Items.Where(i => i.State == RoundState.PulledForward).OrderBy(i => i.Finding?.Urgency).ToList();
        if (pulled.Count > 0)
        {
            yield return new RoundSheetSection("Now: the data asks for it", pulled, IsNow: true);
        }

        foreach (var round in Enum.GetValues<RoundKind>())
        {
            var items = rounds.Items.Where(i => i.Check.Round == round && i.State != RoundState.PulledForward).ToList();
            if (items.Count > 0)
            {
                yield return new RoundSheetSection(RoundWords.Heading(round, items), items, IsNow: false);
            }
        }
    }

    private static double DrawHead(EmbeddedFontContext context, TruckRounds rounds, ReportOptions options, TimeZoneInfo zone)
    {
        var top = HouseStyle.PageMargin;
        var truck = rounds.Truck;
        var titleRight = SimulatedMark.Draw(context, options, Right, top);
        var title = string.IsNullOrWhiteSpace(truck.Name) ? $"Rounds of truck {truck.Id}" : $"Rounds of truck {truck.Id} · {truck.Name}";
        context.Text(Left, top, context.Shorten(title, HouseStyle.PageTitle, titleRight - Left), HouseStyle.PageTitle);
        top += 34;
        var meter = rounds.MeterH is { } h ? $" · meter {NumberWords.Whole(h)} h" : string.Empty;
        var pump = rounds.PumpSerial is { } serial ? $" · pump {serial}" : " · no pump on the truck";
        context.Text(Left, top, context.Shorten($"Yard: {truck.Yard}{pump}{meter}{Fittings(truck)}", HouseStyle.Body, Right - Left), HouseStyle.Body);
        top += 21;
        var rests = rounds.Resting is { } why ? $" · {why}: what is due waits for its next start" : string.Empty;
        var asOf = $"As of {DateWords.DayAndTime(TimeZoneInfo.ConvertTime(rounds.AsOf, zone).DateTime)} · dates in {zone.Id}{rests}";
        context.Text(Left, top, context.Shorten(asOf, HouseStyle.Note, Right - Left), HouseStyle.Note);
        top += 30;
        RoundSheetFoot.Blank(context, "Date", Left, 250, top);
        RoundSheetFoot.Blank(context, "Meter, h", 270, 500, top);
        RoundSheetFoot.Blank(context, "Gauge at relief", 520, Right, top);
        return top + 28;
    }

    private static string Fittings(Truck truck) =>
        (truck.Drive is { } drive ? $" · {drive.ToString().ToLowerInvariant()} drive" : string.Empty)
        + (truck.Deodoriser is { } has ? has ? " · deodoriser" : " · no deodoriser" : string.Empty);
}
