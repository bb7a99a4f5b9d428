namespace Vanehour.Models.VaneWear;

/// <summary>
/// How one number is spread over the fleet: pumps about their model, models about the fleet, the fleet about what is known beforehand. Each pump's belief is made of the others'.
/// </summary>
/// <remarks>
/// Empirical Bayes: what each pump's own observations say of the number (its posterior with the prior divided out) is pooled with the spread between pumps, which is estimated by the
/// EM step for a variance; pumps far out weigh less. [BDA] A. Gelman et al., Bayesian Data Analysis, 3rd edition, 2013, sections 5.4 and 13.4.
/// </remarks>
/// <param name="before">The fleet's mean beforehand.</param>
/// <param name="modelVariance">Variance between models.</param>
/// <param name="pumpVariance">Variance between the pumps of a model beforehand.</param>
internal sealed class FleetLevel(NormalPrior before, double modelVariance, double pumpVariance)
{
    // What is believed of the spread beforehand counts like so many pumps.
    private const double PumpsBefore = 2;
    private const double HuberScale = 2;
    private const int Rounds = 3;

    private readonly double pumpVarianceBefore = pumpVariance;
    private List<Row> rows = [];

    /// <summary>Variance between the pumps of a model.</summary>
    public double PumpVariance { get; private set; } = pumpVariance;

    /// <summary>Learns from the lives as last fitted.</summary>
    /// <param name="posteriors">Model, truck, the belief before, and after the observations.</param>
    public void Learn(IEnumerable<(string Model, string Truck, NormalPrior Before, NormalPrior After)> posteriors)
    {
        var all = posteriors.ToList();
        rows =
        [
            .. all.Select(p =>
            {
                var precision = (1 / p.After.Variance) - (1 / p.Before.Variance);
                return precision * p.Before.Variance < 1e-4
                    ? null
                    : new Row(p.Model, p.Truck, ((p.After.Mean / p.After.Variance) - (p.Before.Mean / p.Before.Variance)) / precision, 1 / precision);
            }).OfType<Row>(),
        ];
        foreach (var model in rows.GroupBy(r => r.Model, StringComparer.Ordinal))
        {
            Weigh([.. model]);
        }

        var sum = PumpsBefore * pumpVarianceBefore;
        var count = PumpsBefore;
        var means = all.Select(p => p.Model).Distinct(StringComparer.Ordinal).ToDictionary(m => m, m => Model(m, null).Mean, StringComparer.Ordinal);
        foreach (var (model, _, before, after) in all)
        {
            // Only so much of what a pump was given to differ by is its own; the rest is its model's, and tells nothing of how pumps differ.
            var far = after.Mean - means[model];
            var own = Math.Min(1, PumpVariance / before.Variance);
            sum += Math.Min((own * own * ((far * far) + after.Variance)) + ((1 - own) * PumpVariance), 9 * PumpVariance);
            count++;
        }

        PumpVariance = sum / count;
    }

    /// <summary>What is believed of a pump of a model by what the pumps on other trucks say.</summary>
    public NormalPrior For(string model, string truck)
    {
        var mean = Model(model, truck);
        return mean with { Variance = mean.Variance + PumpVariance };
    }

    private NormalPrior Model(string model, string? exceptTruck)
    {
        var fleet = before;
        foreach (var other in rows.Where(r => r.Model != model).GroupBy(r => r.Model, StringComparer.Ordinal))
        {
            var (otherMean, otherPrecision) = Mean(other);
            fleet = fleet.And(new NormalPrior(otherMean, (1 / otherPrecision) + modelVariance));
        }

        var known = new NormalPrior(fleet.Mean, fleet.Variance + modelVariance);
        var (mean, precision) = Mean(rows.Where(r => r.Model == model && r.Truck != exceptTruck));
        return precision == 0 ? known : known.And(new NormalPrior(mean, 1 / precision));
    }

    private (double Mean, double Precision) Mean(IEnumerable<Row> of)
    {
        double sum = 0, precision = 0;
        foreach (var row in of)
        {
            var weight = row.Trust / (row.Variance + PumpVariance);
            sum += weight * row.Mean;
            precision += weight;
        }

        return (precision == 0 ? 0 : sum / precision, precision);
    }

    private void Weigh(List<Row> model)
    {
        for (var round = 0; round < Rounds && model.Count > 2; round++)
        {
            var (mean, _) = Mean(model);
            foreach (var row in model)
            {
                row.Trust = Math.Min(1, HuberScale * Math.Sqrt(row.Variance + PumpVariance) / Math.Max(1e-12, Math.Abs(row.Mean - mean)));
            }
        }
    }

    private sealed class Row(string model, string truck, double mean, double variance)
    {
        public string Model { get; } = model;

        public string Truck { get; } = truck;

        public double Mean { get; } = mean;

        public double Variance { get; } = variance;

        public double Trust { get; set; } = 1;
    }
}
