using Vanehour.Host.Output;
using Vanehour.Host.Settings;
using Vanehour.Reports;
using Vanehour.Reports.Planning;

namespace Vanehour.Host.Composition;

/// <summary>Draws the reports of a data folder.</summary>
internal sealed class ReportJob
{
    private readonly DataFolder data;
    private readonly DisplaySettings display;
    private readonly double scale;

    /// <param name="data">What is drawn.</param>
    /// <param name="display">In which units.</param>
    /// <param name="scale">Pixels a layout unit, 1 to 4; the reports' own default where null.</param>
    public ReportJob(DataFolder data, DisplaySettings display, double? scale = null)
    {
        this.data = data;
        this.display = display;
        this.scale = scale ?? new ReportOptions().Scale;
    }

    /// <param name="trucks">Only these; none means all and the overview.</param>
    /// <param name="folder">Where to.</param>
    /// <param name="progress">Who is shown.</param>
    /// <param name="cancellationToken">Stops between two pictures.</param>
    /// <exception cref="CommandFailedException">A truck is not registered, or nothing is analysed yet.</exception>
    public async Task<IReadOnlyList<string>> RunAsync(
        IReadOnlyCollection<string> trucks, string folder, ConsoleProgress progress, CancellationToken cancellationToken)
    {
        var analysis = data.RequireAnalysis(withSeries: true);
        foreach (var truck in trucks)
        {
            data.RequireTruck(truck);
        }

        MakeFolder(folder);
        var options = FolderMarks.Reports(data.Folder) with { Units = display.ForReports, Scale = scale };
        var files = await progress.StepAsync("Drawing reports", share => Task.Run(
            () => ReportWriter.WriteAll(
                analysis,
                data.Register,
                data.Runs,
                folder,
                options,
                trucks.Count == 0 ? null : trucks,
                new ShareOf<ReportProgress>(share, p => (double)p.Done / p.Of),
                cancellationToken),
            cancellationToken));
        if (trucks.Count > 0)
        {
            return files;
        }

        var job = new PlanJob(data, SettingsFile.Read(data.Folder), TimeProvider.System);
        var plan = Path.Combine(folder, "rebuild-plan.png");
        await WholeFile.WriteAsync(plan, PlanReport.Render(job.Drawn(job.Current(analysis).Plan), options), cancellationToken);
        return [.. files, plan];
    }

    private static void MakeFolder(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CommandFailedException($"The folder {folder} cannot be made; choose another for the pictures with --out.", e);
        }
    }
}
