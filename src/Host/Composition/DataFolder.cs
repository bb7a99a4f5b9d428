using Vanehour.Fleet.Register;
using Vanehour.Fleet.Servicing;
using Vanehour.Fleet.Sqlite;
using Vanehour.Host.Moving;
using Vanehour.Host.Serving;
using Vanehour.Host.Settings;
using Vanehour.Models.Analysis;
using Vanehour.Models.Results;
using Vanehour.Models.Rounds;
using Vanehour.Store.Rejects;
using Vanehour.Store.Results;
using Vanehour.Store.Runs;
using Vanehour.Store.Sqlite;
using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Composition;

/// <summary>The databases of one data folder, opened and ready.</summary>
public sealed class DataFolder : IDisposable
{
    private readonly SqliteTelemetryStore local;
    private readonly Lazy<RemoteStore>? remote;

    private DataFolder(string folder, SqliteDatabase fleet, SqliteDatabase sampleFile, StoreSettings store)
    {
        Folder = folder;
        Register = new FleetRegister(fleet);
        Runs = new SqliteRunStore(fleet);
        Results = new SqliteResultStore(fleet);
        Findings = new SqliteFindingStore(fleet);
        Plans = new SqlitePlanStore(fleet);
        local = new SqliteTelemetryStore(sampleFile);
        Rejects = new SqliteRejectLog(sampleFile);
        Store = store.Kind;

        // Only when samples are asked for: a listing of runs must work for somebody who may not read the token.
        remote = store.Kind == StoreKind.Influx
            ? new Lazy<RemoteStore>(() => new RemoteStore(store.Influx, sampleFile, Rejects, WorkerId.Of(folder, shareName: null), TimeProvider.System))
            : null;
        Fleet = fleet;
    }

    /// <summary>The folder's full path.</summary>
    public string Folder { get; }

    public FleetRegister Register { get; }

    public IRunStore Runs { get; }

    public IResultStore Results { get; }

    public IFindingStore Findings { get; }

    public IPlanStore Plans { get; }

    /// <summary>Where samples are kept.</summary>
    public StoreKind Store { get; }

    /// <summary>The InfluxDB that keeps the samples; null where this folder does.</summary>
    /// <exception cref="CommandFailedException">Its settings cannot be used.</exception>
    public RemoteStore? Remote => remote?.Value;

    /// <summary>The samples.</summary>
    /// <exception cref="CommandFailedException">They are in an InfluxDB whose settings cannot be used.</exception>
    public ITelemetryStore Samples => Remote is { } server ? server.Outbox : local;

    public IRejectLog Rejects { get; }

    private SqliteDatabase Fleet { get; }

    /// <summary>Opens a data folder, making it where it is missing.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="store">Where samples are kept, whatever the settings say; null: as they say.</param>
    /// <exception cref="DatabaseException">The folder or a file in it cannot be used.</exception>
    /// <exception cref="CommandFailedException">The settings cannot be used, or a restore into the folder was cut short.</exception>
    public static DataFolder Open(string folder, StoreKind? store = null)
    {
        var full = Path.GetFullPath(folder);
        Restore.RefuseUnfinished(full);
        var settings = SettingsFile.Bind<StoreSettings>(SettingsFile.Read(full), StoreSettings.Section);
        settings.Kind = store ?? settings.Kind;
        return new DataFolder(full, SqliteDatabase.Open(full, FleetSchema.Current), SqliteDatabase.Open(full, SamplesSchema.Current), settings);
    }

    /// <summary>Opens a data folder that must already hold a fleet: a listing of a mistyped folder should not make one.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="store">Where samples are kept, whatever the settings say; null: as they say.</param>
    /// <exception cref="CommandFailedException">There is no Vanehour data in the folder.</exception>
    public static DataFolder OpenExisting(string folder, StoreKind? store = null)
    {
        var full = Path.GetFullPath(folder);
        Restore.RefuseUnfinished(full);
        if (!File.Exists(Path.Combine(full, FleetSchema.Current.FileName)))
        {
            throw new CommandFailedException(
                $"There is no Vanehour data in {full}; name its folder with --data, or start with 'vanehour demo' or 'vanehour import'.");
        }

        return Open(full, store);
    }

    /// <summary>The lease that lets one analysis at a time work on this fleet.</summary>
    /// <param name="time">The clock that leases run by.</param>
    public IAnalysisLease Lease(TimeProvider time) => new SqliteAnalysisLease(Fleet, time);

    /// <summary>The service records as people keep them, with their history.</summary>
    /// <param name="time">The clock by which changes are dated.</param>
    public ServiceBook ServiceBook(TimeProvider time) => new(Register, time);

    /// <summary>Where done rounds are marked: in the service book, and so in its history.</summary>
    /// <param name="time">The clock by which marks are dated.</param>
    public IRoundMarks RoundMarks(TimeProvider time) => new BookedRoundMarks(ServiceBook(time));

    /// <summary>The latest analysis, or null when there was none.</summary>
    /// <param name="withSeries">Whether the indicators' series are read too: by far the largest part, which only pictures need.</param>
    public AnalysisSnapshot? LatestAnalysis(bool withSeries = false) => new AnalysisReader(Results, Findings).Latest(withSeries);

    /// <summary>The latest analysis.</summary>
    /// <param name="withSeries">As for <see cref="LatestAnalysis"/>.</param>
    /// <exception cref="CommandFailedException">There was none yet.</exception>
    public AnalysisSnapshot RequireAnalysis(bool withSeries = false) =>
        LatestAnalysis(withSeries) ?? throw new CommandFailedException($"Nothing in {Folder} is analysed yet; run 'vanehour analyse' first.");

    /// <summary>Sees that a truck is registered.</summary>
    /// <exception cref="CommandFailedException">It is not; the sentence says what may have been meant.</exception>
    public void RequireTruck(string id)
    {
        var trucks = Register.Trucks();
        if (trucks.Any(t => t.Id == id))
        {
            return;
        }

        var meant = trucks.FirstOrDefault(t => string.Equals(t.Id, id, StringComparison.OrdinalIgnoreCase))?.Id;
        throw new CommandFailedException($"Truck '{id}' is not registered; {(meant is null ? "see 'vanehour trucks'." : $"did you mean {meant}?")}");
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        local.Dispose();
        if (remote is { IsValueCreated: true })
        {
            remote.Value.Dispose();
        }
    }
}
