namespace Vanehour.Simulator;

/// <summary>How far publishing has come.</summary>
/// <param name="Messages">Messages handed to the broker so far.</param>
/// <param name="Samples">Instants in them.</param>
/// <param name="At">The last instant of the latest message.</param>
/// <param name="Share">Share of the simulated time gone through, 0..1.</param>
public sealed record PublishProgress(long Messages, long Samples, DateTimeOffset At, double Share);
