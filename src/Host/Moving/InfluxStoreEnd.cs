using Vanehour.Host.Composition;
using Vanehour.Host.Settings;
using Vanehour.Store.Influx;

namespace Vanehour.Host.Moving;

/// <summary>
/// The InfluxDB that a data folder's settings name. As a source it gives the samples of every truck the server has, whoever forwarded them.
/// </summary>
internal sealed class InfluxStoreEnd : IStoreEndFactory
{
    /// <inheritdoc/>
    public string Kind => "influx";

    /// <inheritdoc/>
    public async Task<StoreEnd> OpenAsync(StoreEndRequest request, CancellationToken cancellationToken)
    {
        var data = request.IsTarget ? DataFolder.Open(request.Folder, StoreKind.Influx) : DataFolder.OpenExisting(request.Folder, StoreKind.Influx);
        try
        {
            var remote = data.Remote!;
            if (await remote.CheckAsync(cancellationToken) is { } problem)
            {
                throw new CommandFailedException(problem);
            }

            if (!request.IsTarget)
            {
                await remote.CatchUpAsync(cancellationToken);
            }

            var options = SettingsFile.Bind<StoreSettings>(SettingsFile.Read(data.Folder), StoreSettings.Section).Influx;
            return new StoreEnd($"{Kind}:{options.Url} {options.Bucket} {options.Measurement}", remote.Server, data.Folder, data)
            {
                Done = token => remote.Notes.SendAsync(now: true, token),
            };
        }
        catch (InfluxException e)
        {
            data.Dispose();
            throw new CommandFailedException(e.Message, e);
        }
        catch
        {
            data.Dispose();
            throw;
        }
    }
}
