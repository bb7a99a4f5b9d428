using Vanehour.Models.Analysis;

namespace Vanehour.Models.Indicators;

/// <summary>Learns what to expect of an indicator from the runs of every pump of a model, and judges each pump by it.</summary>
public interface IExpectationModel
{
    /// <summary>Learns and judges. A pure function of its arguments.</summary>
    /// <param name="definition">The indicator.</param>
    /// <param name="pumpModel">The pump model's name.</param>
    /// <param name="pumps">Every life of that model, past and running.</param>
    ExpectationResult Learn(IndicatorDefinition definition, string pumpModel, IReadOnlyList<PumpHistory> pumps);
}
