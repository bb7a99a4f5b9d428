namespace Vanehour.Simulator;

/// <summary>How far publishing has come.</summary>
/// <param name="Messages">Messages handed to the broker so far, those of earlier starts included.</param>
/// <param name="Samples">Instants in those of this start.</param>
/// <param name="At">When the latest message goes out in the simulation.</param>
/// <param name="Share">Share of the simulated time gone through, 0..1.</param>
public sealed record PublishProgress(long Messages, long Samples, DateTimeOffset At, double Share);
