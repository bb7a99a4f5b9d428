using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Options;
using Vanehour.Host.Composition;
using Vanehour.Host.Notices;
using Vanehour.Host.Settings;
using Vanehour.Ingest;
using Vanehour.Ingest.Feed;
using Vanehour.Models.Analysis;
using Vanehour.Models.Findings;
using Vanehour.Models.Watching;

namespace Vanehour.Host.Serving;

/// <summary>What serve does about findings between analyses: watches limits, and tells others of what opens, changes and closes.</summary>
public sealed class FindingServices
{
    private readonly WatchOptions watch;
    private readonly NoticeSettings notices;
    private readonly double pressureTolerance;

    private FindingServices(WatchOptions watch, NoticeSettings notices, double pressureTolerance)
    {
        this.watch = watch;
        this.notices = notices;
        this.pressureTolerance = pressureTolerance;
    }

    /// <summary>Reads the sections Watch and Notices.</summary>
    /// <exception cref="CommandFailedException">They cannot be used.</exception>
    public static FindingServices Read(IConfiguration settings)
    {
        var watch = SettingsFile.Bind<WatchOptions>(settings, "Watch");
        var notices = SettingsFile.Bind<NoticeSettings>(settings, NoticeSettings.Section);
        Require("Watch", watch.Problems());
        Require(NoticeSettings.Section, notices.Problems());
        return new FindingServices(watch, notices, SettingsFile.Bind<AnalysisOptions>(settings, "Analysis").Findings.PressureTolerance);
    }

    /// <summary>Adds the services to a worker's.</summary>
    /// <param name="services">The worker's services.</param>
    /// <param name="data">The data folder.</param>
    /// <param name="brokerForgets">Whether the broker begins empty at each start, so that what is retained there must be told again.</param>
    public void AddTo(IServiceCollection services, DataFolder data, bool brokerForgets)
    {
        ArgumentNullException.ThrowIfNull(services);
        ArgumentNullException.ThrowIfNull(data);
        var book = new FindingBook(data.Findings);
        if (watch.Enabled)
        {
            services.AddHostedService(s => new LimitWatchService(
                new LimitWatch(data.Samples, data.Register, book, watch, pressureTolerance, Time(s)),
                TimeSpan.FromSeconds(watch.EveryS),
                Time(s),
                s.GetRequiredService<ILogger<LimitWatchService>>()));
        }

        if (notices.Mqtt)
        {
            var file = NoticeFile.Open(data.Folder, "mqtt");
            if (brokerForgets)
            {
                file.Clear();
            }

            services.AddSingleton(s => new RetainedPublisher(s.GetRequiredService<IOptions<IngestOptions>>().Value, Time(s)));
            Add(services, book, file, s => new MqttChannel(s.GetRequiredService<RetainedPublisher>()));
        }

        if (notices.Webhook is { } address)
        {
            services.AddSingleton(_ => new HttpClient { Timeout = notices.WebhookTimeout });
            Add(services, book, NoticeFile.Open(data.Folder, "webhook"), s => new WebhookChannel(
                address, s.GetRequiredService<HttpClient>(), notices.WebhookTokenFile, s.GetRequiredService<ILogger<WebhookChannel>>()));
        }
    }

    private static TimeProvider Time(IServiceProvider services) => services.GetRequiredService<TimeProvider>();

    private static void Require(string section, IEnumerable<string> problems)
    {
        if (problems.ToList() is { Count: > 0 } found)
        {
            throw new CommandFailedException($"The settings section {section} cannot be used: {string.Join(" ", found)}");
        }
    }

    // Not AddHostedService, which would take the second channel's service for the first once more.
    private void Add(IServiceCollection services, FindingBook book, NoticeFile file, Func<IServiceProvider, INoticeChannel> channel) =>
        services.AddSingleton<IHostedService>(s => new NoticeService(book, file, channel(s), notices, Time(s), s.GetRequiredService<ILogger<NoticeService>>()));
}
