namespace Vanehour.Simulator.Tests;

/// <summary>Tests that keep every core busy for long. They run alone: beside them brokers and clients of other tests would wait for the processor past their time-outs.</summary>
[CollectionDefinition(nameof(Studies), DisableParallelization = true)]
public sealed class Studies;
