namespace Vanehour.Models.VaneWear;

/// <summary>What lives that reached their limit added to a forecast by the wear curve.</summary>
/// <param name="Weight">The weight of what was learned against the wear curve, 0 to 1; with 0 the middle is the wear curve's and only the range was set by what it had missed by.</param>
/// <param name="Lives">How many ended lives were learned from.</param>
public sealed record LearnedShare(double Weight, int Lives);
