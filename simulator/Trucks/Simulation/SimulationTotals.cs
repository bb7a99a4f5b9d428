namespace Vanehour.Simulator;

/// <summary>How much a simulated fleet sends.</summary>
/// <param name="Messages">Number of messages.</param>
/// <param name="Samples">Number of instants in them.</param>
/// <param name="PayloadBytes">Bytes of payload, topics and protocol not counted.</param>
public sealed record SimulationTotals(long Messages, long Samples, long PayloadBytes);
