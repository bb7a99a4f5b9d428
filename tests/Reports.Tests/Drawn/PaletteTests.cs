using OxyPlot;
using SkiaSharp;
using Vanehour.Reports.Comparing;
using Vanehour.Reports.Drawing;

namespace Vanehour.Reports.Tests.Drawn;

/// <summary>What the house style promises of its colours.</summary>
public sealed class PaletteTests
{
    // Chosen: some six times what is just noticeable (2.3, Mahy and others 1994), so that it survives a poor printer.
    private const double LeastApart = 15;

    // WCAG 2.2, 1.4.3, for text of any size.
    private const double LeastContrast = 4.5;

    private static readonly (string Name, OxyColor A, OxyColor B)[] Told =
    [
        ("data and alarm", HouseStyle.Data, HouseStyle.Alarm),
        ("data and ink", HouseStyle.Data, HouseStyle.Ink),
        ("alarm and ink", HouseStyle.Alarm, HouseStyle.Ink),
        ("data and its band", HouseStyle.Data, HouseStyle.Band),
        ("alarm and the band", HouseStyle.Alarm, HouseStyle.Band),
        ("ink and the band", HouseStyle.Ink, HouseStyle.Band),
        ("data and single readings", HouseStyle.Data, HouseStyle.DataFaint),
        ("alarm and single readings", HouseStyle.Alarm, HouseStyle.DataFaint),
        ("single readings and the band", HouseStyle.DataFaint, HouseStyle.Band),
        ("the band and its edge", HouseStyle.Band, HouseStyle.BandEdge),
        ("alarm and its ground", HouseStyle.Alarm, HouseStyle.AlarmGround),
        ("data and the ground of alarm", HouseStyle.Data, HouseStyle.AlarmGround),
    ];

    public static TheoryData<string> Pairs => [.. Told.Select(t => t.Name)];

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Colours_StayApartInGrey(string pair)
    {
        var (_, a, b) = Told.Single(t => t.Name == pair);
        var apart = Math.Abs(Colours.Lab(Linear(a))[0] - Colours.Lab(Linear(b))[0]);
        Assert.True(apart >= LeastApart, $"{apart:F1}");
    }

    [Theory]
    [MemberData(nameof(Pairs))]
    public void Colours_StayApartForTheColourBlind(string pair)
    {
        var (_, a, b) = Told.Single(t => t.Name == pair);
        foreach (var blindness in Colours.Blindness.Keys)
        {
            var apart = Colours.Difference(Colours.Lab(Colours.Seen(Linear(a), blindness)), Colours.Lab(Colours.Seen(Linear(b), blindness)));
            Assert.True(apart >= LeastApart, $"{blindness}: {apart:F1}");
        }
    }

    [Fact]
    public void Blindness_LeavesGreyAsItIs()
    {
        foreach (var blindness in Colours.Blindness.Keys)
        {
            Assert.All(Colours.Seen([0.4, 0.4, 0.4], blindness), c => Assert.Equal(0.4, c, 5));
        }
    }

    // By hand: white on black is (1 + 0.05) / 0.05; #767676 on white is the well-known lightest grey that passes.
    [Fact]
    public void Contrast_IsThatOfTheGuidelines()
    {
        Assert.Equal(21, Colours.Contrast([1, 1, 1], [0, 0, 0]), 9);
        var grey = Colours.Linear((byte)0x76);
        Assert.InRange(Colours.Contrast([1, 1, 1], [grey, grey, grey]), 4.5, 4.6);
    }

    [Fact]
    public void Texts_CanBeReadOnEveryGroundTheyAreWrittenOn()
    {
        OxyColor[] grounds = [HouseStyle.Paper, HouseStyle.Ahead, HouseStyle.Band, HouseStyle.AlarmGround];
        TextStyle[] styles =
        [
            HouseStyle.PageTitle, HouseStyle.Figure, HouseStyle.PanelTitle, HouseStyle.Body, HouseStyle.BodyStrong, HouseStyle.Note, HouseStyle.Tick, HouseStyle.Label, HouseStyle.Small,
        ];
        foreach (var (style, ground) in styles.SelectMany(s => grounds.Select(g => (s, g))))
        {
            var contrast = Colours.Contrast(Linear(style.Color), Linear(ground));
            Assert.True(contrast >= LeastContrast, $"{style} on {ground}: {contrast:F2}");
        }
    }

    [Fact]
    public void PumpModels_AreToldByDashAndByMarker_AndTheirNamesCanBeRead()
    {
        Assert.Equal(ModelStyle.All.Count, ModelStyle.All.Select(m => m.Mark).Distinct().Count());
        Assert.Equal(ModelStyle.All.Count, ModelStyle.All.Select(m => string.Join(' ', m.Dash ?? [])).Distinct().Count());
        Assert.All(ModelStyle.All, m => Assert.True(Colours.Contrast(Linear(m.Color), Linear(HouseStyle.Paper)) >= LeastContrast, m.Color.ToString()));
    }

    private static double[] Linear(OxyColor colour) => Colours.Linear(new SKColor(colour.R, colour.G, colour.B));
}
