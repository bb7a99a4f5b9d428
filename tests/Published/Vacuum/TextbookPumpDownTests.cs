using System.Text.Json;
using Vanehour.Models.Regression;
using Vanehour.Models.Runs;

namespace Vanehour.Published.Vacuum;

/// <summary>The textbook pump-down t = (V/S) ln(p0/p1) and its forms with an ultimate pressure and a gas load; see SOURCE.md beside the data.</summary>
public class TextbookPumpDownTests
{
    // Noise-free curves: what is left is the rounding of the fit.
    private const double Tolerance = 1e-6;

    public static TheoryData<int, int> CasesAndSamples()
    {
        var data = new TheoryData<int, int>();
        for (var i = 0; i < 6; i++)
        {
            data.Add(i, 30);
            data.Add(i, 60);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(CasesAndSamples))]
    public void Fit_RecoversTheTextbookCurve(int number, int samples)
    {
        using var document = Open();
        var c = document.RootElement.GetProperty("cases")[number];
        var rate = Number(c, "speed_m3_per_s") / Number(c, "volume_m3");
        var ambientKPa = Number(c, "p_start_pa") / 1000;
        var asymptoteKPa = Number(c, "asymptote_pa") / 1000;
        var endKPa = ambientKPa - (Number(c, "p_end_pa") / 1000);
        var timeS = Number(c, "time_s");
        var t = new double[samples];
        var v = new double[samples];
        for (var i = 0; i < samples; i++)
        {
            t[i] = 1000 + (timeS * i / (samples - 1));
            v[i] = (ambientKPa - asymptoteKPa) * (1 - Math.Exp(-rate * (t[i] - 1000)));
        }

        var fit = PumpDownFitter.Fit(t, v, endKPa, ambientKPa);

        Assert.Equal(FitStatus.Converged, fit.Status);
        AssertClose(rate, fit.RatePerS, rate);
        AssertClose(1000, fit.StartS, timeS);
        AssertClose(ambientKPa - asymptoteKPa, fit.UltimateKPa, ambientKPa);

        // S/V = k v_u/p_a; where the pump's ultimate is a perfect vacuum, S is the textbook's and there is no leak.
        AssertClose(rate * (ambientKPa - asymptoteKPa) / ambientKPa, fit.FlowPerVolumePerS, rate);
        AssertClose(rate * asymptoteKPa / ambientKPa, fit.LeakPerVolumePerS!.Value, rate);

        // The time the textbook gives to this pressure, from the fit.
        AssertClose(timeS, -Math.Log(1 - (endKPa / fit.UltimateKPa)) / fit.RatePerS, timeS);
    }

    [Fact]
    public void Fit_FollowsThePublishedCurve()
    {
        using var document = Open();
        var curve = document.RootElement.GetProperty("curve");
        var rate = Number(curve, "speed_m3_per_s") / Number(curve, "volume_m3");
        var ambientKPa = Number(curve, "p_start_pa") / 1000;
        var points = curve.GetProperty("points").EnumerateArray().Select(p => (T: Number(p, "t_s"), V: ambientKPa - (Number(p, "p_pa") / 1000))).ToArray();

        // The seven points are too few for the leak, so the curve is made denser from the same equation and checked against them first.
        var ultimateKPa = ambientKPa - (Number(curve, "p_ultimate_pa") / 1000);
        foreach (var point in points)
        {
            AssertClose(point.V, ultimateKPa * (1 - Math.Exp(-rate * point.T)), ambientKPa);
        }

        var t = Enumerable.Range(0, 121).Select(i => 5.0 * i).ToArray();
        var v = t.Select(at => ultimateKPa * (1 - Math.Exp(-rate * at))).ToArray();
        var fit = PumpDownFitter.Fit(t, v, v[^1], ambientKPa);

        AssertClose(rate, fit.RatePerS, rate);
        AssertClose(ultimateKPa, fit.UltimateKPa, ambientKPa);
    }

    private static JsonDocument Open() =>
        JsonDocument.Parse(typeof(TextbookPumpDownTests).Assembly.GetManifestResourceStream("Vacuum/pumpdown")!);

    private static double Number(JsonElement element, string name) => element.GetProperty(name).GetDouble();

    private static void AssertClose(double expected, double actual, double scale) =>
        Assert.True(Math.Abs(actual - expected) <= Tolerance * scale, FormattableString.Invariant($"{actual:R} is not {expected:R}"));
}
