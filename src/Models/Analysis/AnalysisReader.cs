using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Vanehour.Models.Findings;
using Vanehour.Models.Indicators;
using Vanehour.Models.Results;
using Vanehour.Models.VaneWear;
using Vanehour.Store.Results;

namespace Vanehour.Models.Analysis;

/// <summary>Reads what analyses have kept.</summary>
/// <param name="results">The results.</param>
/// <param name="findings">The findings.</param>
public sealed class AnalysisReader(IResultStore results, IFindingStore findings)
{
    private readonly FindingBook _book = new(findings);

    /// <summary>
    /// The latest analysis, or null when there was none. Findings are as they stand now, with what people have marked since.
    /// </summary>
    /// <param name="withSeries">Whether the indicators' series are read too: by far the largest part, which only pictures need.</param>
    /// <exception cref="JsonException">What is kept cannot be read: it was written by another version; analyse again.</exception>
    public AnalysisSnapshot? Latest(bool withSeries = true)
    {
        if (results.LatestAsOf() is not { } asOf)
        {
            return null;
        }

        return new AnalysisSnapshot
        {
            AsOf = asOf,
            Models = [.. Read(asOf, ResultKind.Model, ModelsJson.Default.FittedModel)],
            Choices = [.. Read(asOf, ResultKind.Choice, ModelsJson.Default.ModelChoice).OrderBy(c => c.Indicator)],
            Series = !withSeries ? [] : [.. Read(asOf, ResultKind.Series, ModelsJson.Default.IndicatorSeries).OrderBy(s => s.Truck, StringComparer.Ordinal).ThenBy(s => s.Indicator)],
            Wear = [.. Read(asOf, ResultKind.Wear, ModelsJson.Default.WearForecast).OrderBy(w => w.Truck, StringComparer.Ordinal)],
            Findings = [.. _book.Current()],
        };
    }

    /// <summary>What the latest analysis was; null when there was none.</summary>
    public AnalysisHeader? LatestHeader() => results.LatestAsOf() is { } asOf ? Read(asOf, ResultKind.Header, ModelsJson.Default.AnalysisHeader).FirstOrDefault() : null;

    /// <summary>The wear forecasts of an analysis, in order of truck.</summary>
    public IEnumerable<WearForecast> WearOf(DateTimeOffset asOf) => Read(asOf, ResultKind.Wear, ModelsJson.Default.WearForecast);

    /// <summary>The indicator series of one truck in an analysis.</summary>
    public IEnumerable<IndicatorSeries> SeriesOf(DateTimeOffset asOf, string truck)
    {
        foreach (var indicator in Enum.GetValues<Indicator>())
        {
            if (results.Read(asOf, ResultKind.Series, $"{truck}/{indicator}") is { } document)
            {
                yield return JsonSerializer.Deserialize(document.Json, ModelsJson.Default.IndicatorSeries) ?? throw new JsonException($"{document.Key} is empty.");
            }
        }
    }

    private IEnumerable<T> Read<T>(DateTimeOffset asOf, string kind, JsonTypeInfo<T> type) => results.Read(asOf, kind)
        .Select(d => JsonSerializer.Deserialize(d.Json, type) ?? throw new JsonException($"{kind} {d.Key} is empty."));
}
