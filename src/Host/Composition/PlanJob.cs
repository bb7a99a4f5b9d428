using Microsoft.Extensions.Configuration;
using Vanehour.Host.Settings;
using Vanehour.Models.Planning;
using Vanehour.Models.Results;
using Vanehour.Reports.Planning;

namespace Vanehour.Host.Composition;

/// <summary>Makes the rebuild plan of a data folder from what its latest analysis kept.</summary>
internal sealed class PlanJob
{
    /// <summary>The section's name.</summary>
    public const string Section = "Plan";

    private readonly DataFolder data;
    private readonly TimeProvider time;

    /// <exception cref="CommandFailedException">The settings cannot be used.</exception>
    public PlanJob(DataFolder data, IConfiguration settings, TimeProvider time)
    {
        this.data = data;
        this.time = time;
        Options = OptionsOf(settings);
        Planner = new Planner(Options);
        Book = new PlanBook(data.Plans);
    }

    public PlanOptions Options { get; }

    public Planner Planner { get; }

    public PlanBook Book { get; }

    /// <exception cref="CommandFailedException">The settings cannot be used.</exception>
    public static PlanOptions OptionsOf(IConfiguration settings)
    {
        var options = SettingsFile.Bind<PlanOptions>(settings, Section);
        return options.Problems().ToList() is { Count: > 0 } problems
            ? throw new CommandFailedException($"The settings section {Section} cannot be used: " + string.Join(" ", problems))
            : options;
    }

    /// <summary>Sees that yards, pump models and trucks that the settings name exist.</summary>
    /// <returns>A sentence for each that does not.</returns>
    public IEnumerable<string> Unknown()
    {
        var trucks = data.Register.Trucks();
        var yards = trucks.Select(t => t.Yard).ToHashSet(StringComparer.Ordinal);
        var models = data.Register.PumpModels().Select(m => m.Model).ToHashSet(StringComparer.Ordinal);
        var ids = trucks.Select(t => t.Id).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. Options.YardSlots.Keys.Where(y => !yards.Contains(y)).Select(y => $"The settings give slots to a yard '{y}', where no truck is."),
            .. Options.Parts.Keys.Concat(Options.Spares.Keys).Distinct(StringComparer.Ordinal).Where(m => !models.Contains(m)).Select(m => $"The settings give parts or spares of a pump model '{m}' that is not registered."),
            .. Options.NotTogether.SelectMany(t => t).Distinct(StringComparer.Ordinal).Where(t => !ids.Contains(t)).Select(t => $"The settings keep a truck '{t}' apart from others that is not registered."),
        ];
    }

    /// <summary>What a plan is made from now.</summary>
    public PlanInput Input(AnalysisSnapshot analysis, RebuildPlan? previous)
    {
        return PlanInput.Of(analysis.AsOf, analysis.Wear, analysis.Findings, data.Register, Book.Marks(), previous, time.GetUtcNow());
    }

    /// <summary>
    /// The plan as it is now. Where nothing but time has passed since the last one was kept, that one with what moved then; else a new one with what moves now.
    /// </summary>
    public (PlanInput Input, RebuildPlan Plan) Current(AnalysisSnapshot analysis)
    {
        var kept = Book.Latest();
        var input = Input(analysis, kept);
        var plan = Planner.Make(input);
        return kept is not null && kept.AsOf == plan.AsOf && kept.Jobs.AsEnumerable().SequenceEqual(plan.Jobs) ? (input, plan with { Moves = kept.Moves, MadeAt = kept.MadeAt }) : (input, plan);
    }

    /// <summary>What its picture is drawn from.</summary>
    public PlanReportData Drawn(RebuildPlan plan) => new(plan, Options, Book.Marks(), [.. data.Register.Trucks().Where(t => t.InService).Select(t => t.Yard).Distinct(StringComparer.Ordinal)]);

    /// <summary>Makes a plan and keeps it.</summary>
    public RebuildPlan Renew(AnalysisSnapshot analysis)
    {
        var plan = Planner.Make(Input(analysis, Book.Latest()));
        Book.Save(plan);
        return plan;
    }
}
