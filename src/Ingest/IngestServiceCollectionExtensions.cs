using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Options;
using Vanehour.Ingest.Feed;
using Vanehour.Ingest.Health;
using Vanehour.Ingest.Pipeline;

namespace Vanehour.Ingest;

/// <summary>Composes the ingest worker into a host.</summary>
public static class IngestServiceCollectionExtensions
{
    /// <summary>
    /// Adds the ingest worker. The host brings <c>ITelemetryStore</c>, <c>IRejectLog</c>, logging and metrics (<c>AddMetrics</c>; the
    /// generic host has both), and binds the section <see cref="IngestOptions.Section"/> if it has one.
    /// </summary>
    /// <param name="services">The host's services.</param>
    /// <param name="configure">Sets what the command line says, after whatever was bound before.</param>
    public static IServiceCollection AddVanehourIngest(this IServiceCollection services, Action<IngestOptions>? configure = null)
    {
        ArgumentNullException.ThrowIfNull(services);
        var options = services.AddOptions<IngestOptions>().ValidateOnStart();
        if (configure is not null)
        {
            options.Configure(configure);
        }

        services.TryAddEnumerable(ServiceDescriptor.Singleton<IValidateOptions<IngestOptions>, IngestOptionsValidator>());
        services.TryAddSingleton(TimeProvider.System);
        services.TryAddSingleton<IngestMonitor>();
        services.TryAddSingleton<IngestMetrics>();
        services.TryAddSingleton<MqttFeed>();
        services.TryAddSingleton<IngestPipeline>();
        services.TryAddSingleton<IngestWorker>();
        services.AddHostedService(s => s.GetRequiredService<IngestWorker>());
        return services;
    }
}
