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
    [InlineData("{\"type\":\"fault\",\"truck\":\"T1\"}", "'pump_serial' is missing.")]
    [InlineData("not json", "it is not valid JSON at byte 2.")]
    [InlineData("[1]", "'type' is missing.")]
    [InlineData("{\"type\":\"life\",\"truck\":null}", "'truck' is not a text.")]
    [InlineData("{\"type\":\"stay\",\"truck\":\"T1\",\"from\":\"May\"}", "'from' is not an instant.")]
    [InlineData("{\"type\":\"drift\",\"truck\":\"T1\",\"onset\":\"2026-01-01T00:00:00Z\",\"factor\":\"2\"}", "'factor' is not a number.")]
    [InlineData("{\"type\":\"fault\",\"truck\":\"T1\",\"pump_serial\":\"P\",\"fault\":\"Gremlins\",\"onset\":\"2026-01-01T00:00:00Z\",\"severity\":1,\"serious\":true}", "'Gremlins' is no cause.")]
    [InlineData("{\"type\":\"fault\",\"truck\":\"T1\",\"pump_serial\":\"P\",\"fault\":\"OilLeak\",\"onset\":\"2026-01-01T00:00:00Z\",\"severity\":1,\"serious\":1}", "'serious' is not true or false.")]
    public void ABadLine_IsNamed_WithTheReason(string line, string reason)
    {
        var failure = Assert.Throws<EvaluationException>(() => TruthReader.Read(["{\"type\":\"note\"}", line]));
        Assert.Equal("Line 2 of the truth file cannot be read: " + reason, failure.Message);
    }
}
