using Vanehour.Models.Regression;

namespace Vanehour.Published.Degradation;

/// <summary>Power drop that levels off, fitted device by device, against 50-digit arithmetic; see SOURCE.md beside the data.</summary>
public sealed class DeviceBTests
{
    private static readonly DataFile File = DataFile.Open("Degradation/device-b");

    [Fact]
    public void EachDevice_IsFittedAsIn50Digits_OrSaidNotToBe()
    {
        var wanted = File.Values.GetProperty("per_device").EnumerateArray().ToDictionary(d => d.GetProperty("device").GetRawText());
        var (hours, drop, celsius) = (File.Numbers("hours"), File.Numbers("power_drop_db"), File.Numbers("celsius"));
        Assert.Equal(34, wanted.Count);
        var identified = 0;
        foreach (var (device, rows) in File.By("device"))
        {
            double[] x = [.. rows.Select(i => hours[i])];
            double[] y = [.. rows.Select(i => drop[i])];

            // A drop of 1.5 dB in the end, at a rate that the temperature of the test sets: the starts know nothing of the device.
            var fit = NonlinearLeastSquares.Fit(Drop, Slopes, x, y, [celsius[rows[0]] switch { 150 => -9, 195 => -7.5, _ => -6 }, 0.4]);
            var values = wanted[device];
            if (!values.GetProperty("identifiable").GetBoolean())
            {
                Assert.NotEqual(FitStatus.Converged, fit.Status);
                Assert.NotEmpty(fit.Advice);
                continue;
            }

            identified++;
            double Of(string name) => values.GetProperty(name).GetDouble();
            Assert.Equal(FitStatus.Converged, fit.Status);
            Assert.Equal(values.GetProperty("n").GetInt32(), fit.Observations);

            // Logarithms of rate and limit, found to a share of their standard errors: digits end where rounding in the sum of squares does.
            Assert.Equal(Of("b1"), fit.Estimates[0], 1e-7 * Of("se_b1"));
            Assert.Equal(Of("b2"), fit.Estimates[1], 1e-7 * Of("se_b2"));
            Assert.Equal(Of("se_b1"), fit.StandardErrors[0], 1e-7 * Of("se_b1"));
            Assert.Equal(Of("se_b2"), fit.StandardErrors[1], 1e-7 * Of("se_b2"));
            Assert.Equal(Of("rss"), fit.ResidualSumOfSquares, 1e-12 * Of("rss"));
        }

        Assert.Equal(33, identified);
    }

    private static double Drop(ReadOnlySpan<double> b, double hours) => Math.Exp(b[1]) * (Math.Exp(-Math.Exp(b[0]) * hours) - 1);

    private static void Slopes(ReadOnlySpan<double> b, double hours, Span<double> gradient)
    {
        var gone = Math.Exp(b[0]) * hours;
        gradient[0] = -Math.Exp(b[1]) * gone * Math.Exp(-gone);
        gradient[1] = Drop(b, hours);
    }
}
