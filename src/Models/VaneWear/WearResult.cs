using Vanehour.Models.Regression;

namespace Vanehour.Models.VaneWear;

/// <summary>The wear of one pump as forecast, and the fit behind it.</summary>
/// <param name="Forecast">The forecast.</param>
/// <param name="Fit">The fit; null where there were too few checks.</param>
public sealed record WearResult(WearForecast Forecast, FittedModel? Fit);
