using Vanehour.Scoring;

namespace Vanehour.Simulator.Tests.Scoring;

public sealed class TruthReaderTests
{
    [Fact]
    public void WhatTheWriterWrites_IsReadBack()
    {
        var fleet = SimulatedFleet.Create(new SimulationOptions { Trucks = 6, Months = 3, Seed = 5, Dirt = 1 });
        using var stream = new MemoryStream();
        TruthFile.Write(fleet.Truth(), stream);
        var read = TruthReader.Read(System.Text.Encoding.UTF8.GetString(stream.ToArray()).Split('\n'));
        var truth = fleet.Truth();
        Assert.Equal(truth.Faults.Length, read.Faults.Length);
        Assert.Equal(truth.Faults.Select(f => (f.Truck, f.Fault, f.Serious, f.Severity)), read.Faults.Select(f => (f.Truck, f.Fault, f.Serious, f.Severity)));
        Assert.All(truth.Faults.Zip(read.Faults), p => Assert.Equal(p.First.Findings.AsEnumerable(), p.Second.Findings));

        // Instants are written to the second.
        Assert.All(truth.Faults.Zip(read.Faults), p => Assert.InRange((p.First.Onset - p.Second.Onset).TotalSeconds, 0, 1));
        Assert.Equal(truth.Lives.Select(l => (l.Truck, l.PumpSerial)), read.Lives.Select(l => (l.Truck, l.PumpSerial)));
        Assert.Equal(truth.Checks.Length, read.Checks.Length);
        Assert.Equal(truth.Stays.Length, read.Stays.Length);
        Assert.NotEmpty(truth.Gateway);
        Assert.Equal(truth.Gateway.Select(g => (g.Truck, g.Kind)), read.Gateway.Select(g => (g.Truck, g.Kind)));
    }

    [Theory]
    [InlineData("{\"type\":\"fault\",\"truck\":\"T1\"}")]
    [InlineData("not json")]
    [InlineData("{\"type\":\"life\",\"truck\":null}")]
    [InlineData("{\"type\":\"fault\",\"truck\":\"T1\",\"pump_serial\":\"P\",\"fault\":\"Gremlins\",\"onset\":\"2026-01-01T00:00:00Z\",\"severity\":1,\"serious\":true}")]
    public void ABadLine_IsNamed(string line)
    {
        var failure = Assert.Throws<EvaluationException>(() => TruthReader.Read(["{\"type\":\"note\"}", line]));
        Assert.Contains("Line 2", failure.Message, StringComparison.Ordinal);
    }
}
