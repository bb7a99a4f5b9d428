using MathNet.Numerics.Distributions;
using Vanehour.Models.Regression;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Runs;

public class PumpDownFitterTests
{
    private const double AmbientKPa = 98;
    private const double ReferenceKPa = 40;

    /// <summary>Intervals come with a coverage simulation: seeded, so that the share is the same on every run.</summary>
    [Theory]
    [InlineData(1, 60, 2.0, 61, 0.15)]
    [InlineData(2, 60, 5.0, 61, 0.35)]
    [InlineData(3, 30, 2.0, 68, 0.35)]
    [InlineData(4, 100, 10.0, 61, 0.35)]
    [InlineData(5, 100, 2.0, 88, 0.35)]
    [InlineData(6, 60, 2.0, 45, 0.15)]
    public void NetFlowIntervals_CoverTheTruth(int seed, double timeConstantS, double everyS, double reliefKPa, double noiseKPa)
    {
        const int Trials = 2000;
        var noise = new Noise(seed);
        var (flowIn, leakIn, netIn, netInNormal, sum, sumSe, known) = (0, 0, 0, 0, 0.0, 0.0, 0);
        for (var i = 0; i < Trials; i++)
        {
            var truth = new Tank(1 / timeConstantS, noise.Uniform(0.03, 0.12) / timeConstantS);
            var (t, v) = truth.Rise(noise, everyS, reliefKPa, noiseKPa);
            var fit = PumpDownFitter.Fit(t, v, Plateau(v), AmbientKPa);
            Assert.Equal(FitStatus.Converged, fit.Status);
            if (fit.LeakPerVolumeSe is not { } leakSe)
            {
                continue;
            }

            known++;
            var quantile = StudentT.InvCDF(0, 1, fit.FittedSamples - 3, 0.975);
            var (net, se) = fit.NetFlow(ReferenceKPa);
            var error = net - truth.NetFlow(ReferenceKPa);
            netIn += Math.Abs(error) <= quantile * se ? 1 : 0;
            netInNormal += Math.Abs(error) <= 1.96 * se ? 1 : 0;
            flowIn += Math.Abs(fit.FlowPerVolumePerS - truth.Flow) <= quantile * fit.FlowPerVolumeSe ? 1 : 0;
            leakIn += Math.Abs(fit.LeakPerVolumePerS!.Value - truth.Leak) <= quantile * leakSe ? 1 : 0;
            sum += error;
            sumSe += se;
        }

        Assert.True(known >= 1000, $"The leak was known in {known}.");
        Assert.InRange((double)netIn / known, 0.93, 0.97);
        Assert.InRange((double)flowIn / known, 0.93, 0.97);
        Assert.InRange((double)leakIn / known, 0.93, 0.97);

        // Plain 1.96 standard errors, as a reader of the run would take them; a little short with few samples.
        Assert.InRange((double)netInNormal / known, 0.91, 0.97);

        // The bias is small beside one standard error.
        Assert.InRange(Math.Abs(sum) / sumSe, 0, 0.15);
    }

    [Theory]
    [InlineData(7, 60, 5.0, 35)]
    [InlineData(8, 60, 12.0, 50)]
    public void WithoutALeakEstimate_TheWiderErrorCovers(int seed, double timeConstantS, double everyS, double reliefKPa)
    {
        const int Trials = 2000;
        var noise = new Noise(seed);
        var (flowIn, netIn) = (0, 0);
        for (var i = 0; i < Trials; i++)
        {
            // The share of ambient that the ultimate reaches is drawn from what the fitter assumes: 0.90, sd 0.07 (cut at 1: no leak below zero).
            var share = Math.Min(0.90 + noise.Normal(0.07), 1);
            var flow = 1 / timeConstantS;
            var truth = new Tank(flow, flow * ((1 / share) - 1));
            var (t, v) = truth.Rise(noise, everyS, reliefKPa, 0.3);
            var fit = PumpDownFitter.Fit(t, v, Plateau(v), AmbientKPa);
            Assert.Equal(FitStatus.Converged, fit.Status);
            Assert.Null(fit.LeakPerVolumePerS);
            Assert.Null(fit.LeakPerVolumeSe);
            Assert.Null(fit.FlowLeakCovariance);
            var quantile = StudentT.InvCDF(0, 1, fit.FittedSamples - 2, 0.975);
            flowIn += Math.Abs(fit.FlowPerVolumePerS - truth.Flow) <= quantile * fit.FlowPerVolumeSe ? 1 : 0;
            var (net, se) = fit.NetFlow(30);
            netIn += Math.Abs(net - truth.NetFlow(30)) <= quantile * se ? 1 : 0;
        }

        // Student's quantile is meant for the noise and is generous on the assumed part, so these cover no less than they say.
        Assert.InRange((double)flowIn / Trials, 0.93, 1);
        Assert.InRange((double)netIn / Trials, 0.93, 1);
    }

    [Fact]
    public void CleanData_NeverFails()
    {
        var noise = new Noise(9);
        for (var i = 0; i < 2000; i++)
        {
            var flow = 1 / noise.Uniform(15, 400);
            var truth = new Tank(flow, flow * noise.Uniform(0, 0.35));
            var every = noise.Uniform(0.01, 0.05) / flow;
            var relief = noise.Uniform(0.35, 0.97) * truth.Ultimate;
            var (t, v) = truth.Rise(noise, every, relief, 0);
            var fit = PumpDownFitter.Fit(t, v, Plateau(v), AmbientKPa);
            Assert.Equal(FitStatus.Converged, fit.Status);
            if (fit.LeakPerVolumePerS is { } leak)
            {
                Assert.Equal(truth.Flow, fit.FlowPerVolumePerS, truth.Flow * 1e-6);
                Assert.Equal(truth.Leak, leak, truth.Flow * 1e-6);
                Assert.Equal(truth.NetFlow(ReferenceKPa), fit.NetFlow(ReferenceKPa).PerS, truth.Flow * 1e-6);
            }
        }
    }

    [Theory]
    [InlineData(25)]
    [InlineData(-25)]
    [InlineData(6)]
    public void OneStraySpike_ChangesNothing(double spikeKPa)
    {
        for (var seed = 0; seed < 50; seed++)
        {
            var truth = new Tank(1 / 60.0, 0.06 / 60);
            var (t, v) = truth.Rise(new Noise(seed), 2, 61, 0.2);
            var clean = PumpDownFitter.Fit(t, v, Plateau(v), AmbientKPa);
            var hit = Array.FindIndex(v, x => x > 8) + (seed % 18);
            v[hit] += spikeKPa;

            var fit = PumpDownFitter.Fit(t, v, Plateau(v), AmbientKPa);

            Assert.Equal(FitStatus.Converged, fit.Status);
            Assert.True(fit.SpikesSetAside >= 1);
            Assert.InRange(fit.NetFlow(ReferenceKPa).PerS, clean.NetFlow(ReferenceKPa).PerS * 0.99, clean.NetFlow(ReferenceKPa).PerS * 1.01);
            Assert.InRange(fit.FittedSamples, clean.FittedSamples - 2, clean.FittedSamples);
        }
    }

    [Fact]
    public void Speed_MovesTheFlowAndNotTheLeak()
    {
        var truth = new Tank(1 / 60.0, 0.06 / 60);
        var (t, v) = truth.Rise(new Noise(1), 2, 61, 0);

        var fit = PumpDownFitter.Fit(t, v, Plateau(v), AmbientKPa);

        Assert.Equal(new Tank(truth.Flow * 1.1, truth.Leak).NetFlow(ReferenceKPa), fit.NetFlow(ReferenceKPa, 1.1).PerS, 1e-8);
    }

    [Fact]
    public void TooFewSamples_IsDegenerate()
    {
        var fit = PumpDownFitter.Fit([0, 30, 60], [0, 40, 61], 61, AmbientKPa);

        Assert.Equal(FitStatus.Degenerate, fit.Status);
        Assert.NotEmpty(fit.Advice);
        Assert.True(double.IsNaN(fit.NetFlow(ReferenceKPa).PerS));
    }

    [Fact]
    public void NonsenseData_NeverThrows()
    {
        var noise = new Noise(10);
        for (var i = 0; i < 500; i++)
        {
            var n = noise.Below(60);
            var t = new double[n];
            var v = new double[n];
            for (var j = 0; j < n; j++)
            {
                t[j] = (j == 0 ? 0 : t[j - 1]) + noise.Uniform(0, 3);
                v[j] = noise.Uniform(-5, 105);
            }

            var fit = PumpDownFitter.Fit(t, v, noise.Uniform(1, 105), noise.Uniform(60, 105));
            Assert.True(fit.Status == FitStatus.Converged ? double.IsFinite(fit.FlowPerVolumeSe) : double.IsNaN(fit.FlowPerVolumePerS));
        }
    }

    private static double Plateau(double[] v)
    {
        var last = v[^5..];
        Array.Sort(last);
        return last[2];
    }

    /// <summary>A tank and pump that follow the model exactly.</summary>
    private sealed record Tank(double Flow, double Leak)
    {
        public double Ultimate => AmbientKPa * Flow / (Flow + Leak);

        public double NetFlow(double vacuumKPa) => Flow - (Leak * vacuumKPa / (AmbientKPa - vacuumKPa));

        /// <summary>Idle, the rise from a random instant, then 30 s or 5 readings at the relief setting (or the ultimate).</summary>
        public (double[] T, double[] V) Rise(Noise noise, double everyS, double reliefKPa, double noiseKPa)
        {
            var start = noise.Uniform(20, 20 + everyS);
            var rate = Flow + Leak;
            var settles = reliefKPa < 0.97 * Ultimate ? -Math.Log(1 - (reliefKPa / Ultimate)) / rate : 5 / rate;
            var n = (int)((start + settles + Math.Max(30, 5 * everyS)) / everyS);
            var t = new double[n];
            var v = new double[n];
            for (var i = 0; i < n; i++)
            {
                t[i] = i * everyS;
                var clean = t[i] < start ? 0 : Ultimate * (1 - Math.Exp(-rate * (t[i] - start)));
                v[i] = Math.Min(clean, reliefKPa) + noise.Normal(noiseKPa);
            }

            return (t, v);
        }
    }
}
