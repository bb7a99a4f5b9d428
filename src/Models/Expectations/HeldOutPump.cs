using Vanehour.Models.Indicators;

namespace Vanehour.Models.Expectations;

/// <summary>A pump of a held-out truck.</summary>
/// <param name="Reference">Its first hours, up to the cut: its own level.</param>
/// <param name="Earlier">Runs up to the cut, taken evenly: its noise.</param>
/// <param name="Later">Its runs after the cut, which are predicted.</param>
internal sealed record HeldOutPump(List<IndicatorObservation> Reference, List<IndicatorObservation> Earlier, List<IndicatorObservation> Later);
