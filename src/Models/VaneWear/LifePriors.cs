namespace Vanehour.Models.VaneWear;

/// <summary>What is believed of a life before its observations.</summary>
/// <param name="NetFlow">ln of net flow as new over the nameplate's.</param>
/// <param name="Tightness">ln of tightness as new.</param>
/// <param name="LogRate">ln of wear per PTO hour.</param>
/// <param name="LogLoss">ln of the flow that is lost at the limit over what the model's limit says.</param>
internal readonly record struct LifePriors(NormalPrior NetFlow, NormalPrior Tightness, NormalPrior LogRate, NormalPrior LogLoss);
