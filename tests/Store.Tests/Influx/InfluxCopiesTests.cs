using Vanehour.Fleet.Runs;
using Vanehour.Fleet.Sqlite;
using Vanehour.Store.Influx;
using Vanehour.Store.Sqlite;

namespace Vanehour.Store.Tests.Influx;

/// <summary>Copies of runs and findings, on Debian's influxd.</summary>
public sealed class InfluxCopiesTests(InfluxFixture influx) : IClassFixture<InfluxFixture>, IDisposable
{
    private static readonly DateTimeOffset Day = new(2026, 3, 4, 6, 0, 0, TimeSpan.Zero);

    private readonly DataFolder folder = new();

    public void Dispose() => folder.Dispose();

    [SkippableFact]
    public async Task Runs_AreCopied_AndFollowWhenTheyAreDerivedAgain()
    {
        using var connection = await ConnectAsync();
        var copies = new InfluxCopies(connection, SqliteDatabase.Open(folder.Path, SamplesSchema.Current));
        var runs = new NotedRunStore(new SqliteRunStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current)), copies);
        runs.Replace("T1", DateTimeOffset.MinValue, [Run("T1", 0), Run("T1", 2), Run("T1", 4)], null);
        runs.Replace("T2", DateTimeOffset.MinValue, [Run("T2", 1)], null);

        Assert.Equal(4, await copies.CopyRunsAsync(runs, CancellationToken.None));
        Assert.Equal(0, await copies.CopyRunsAsync(runs, CancellationToken.None));
        Assert.Equal(["T1 0 1.5", "T1 2 1.5", "T1 4 1.5", "T2 1 1.5"], await CopiedAsync(connection));

        // The second run now begins half an hour later, and the third is gone.
        runs.Replace("T1", Day.AddHours(2), [Run("T1", 2.5)], null);
        Assert.Equal(1, await copies.CopyRunsAsync(runs, CancellationToken.None));
        Assert.Equal(["T1 0 1.5", "T1 2.5 1.5", "T2 1 1.5"], await CopiedAsync(connection));
    }

    [SkippableFact]
    public async Task CopyThatFails_IsMadeUpFor()
    {
        using var connection = await ConnectAsync();
        var copies = new InfluxCopies(connection, SqliteDatabase.Open(folder.Path, SamplesSchema.Current));
        var runs = new NotedRunStore(new SqliteRunStore(SqliteDatabase.Open(folder.Path, FleetSchema.Current)), copies);
        runs.Replace("T1", DateTimeOffset.MinValue, [Run("T1", 0)], null);
        influx.Shim.Before = context =>
        {
            context.Abort();
            return Task.FromResult(true);
        };

        await Assert.ThrowsAsync<InfluxException>(() => copies.CopyRunsAsync(runs, CancellationToken.None));
        influx.Shim.Before = null;

        Assert.Equal(1, await copies.CopyRunsAsync(runs, CancellationToken.None));
        Assert.Equal(["T1 0 1.5"], await CopiedAsync(connection));
    }

    [SkippableFact]
    public async Task Findings_AreCopied_AndACopyFollowsItsFinding()
    {
        using var connection = await ConnectAsync();
        var copies = new InfluxCopies(connection, SqliteDatabase.Open(folder.Path, SamplesSchema.Current));
        var finding = new FindingCopy("a1", "T1", "RunningHot", "Week", "Open", Day, null, "12 K over its \"own\" past\nand more");
        var installation = new FindingCopy("b2", null, "ForwardingBehind", "Week", "Open", Day, null, "behind");
        await copies.CopyFindingsAsync([finding, installation], CancellationToken.None);
        await copies.CopyFindingsAsync([finding with { Urgency = "Stop", Status = "Acknowledged" }, installation with { Status = "Closed", Closed = Day.AddHours(1) }], CancellationToken.None);

        var rows = new List<string>();
        await connection.QueryAsync(
            "SELECT \"id\", \"kind\", \"truck\", \"urgency\", \"status\", \"text\", \"closed_ms\" FROM \"finding\"",
            row =>
            {
                if (!row.IsHeader)
                {
                    rows.Add(string.Join('|', Enumerable.Range(3, row.Count - 3).Select(i => row[i].ToString())));
                }
            },
            CancellationToken.None);
        Assert.Equal(
            ["a1|RunningHot|T1|Stop|Acknowledged|12 K over its \"own\" past and more|", $"b2|ForwardingBehind||Week|Closed|behind|{Day.AddHours(1).ToUnixTimeMilliseconds()}"],
            rows.Order());
    }

    private static Run Run(string truck, double hour) => new()
    {
        Truck = truck,
        Start = Day.AddHours(hour),
        End = Day.AddHours(hour + 0.25),
        HoursH = 1.5,
        VacuumMeanKPa = 40,
        Quality = new RunQuality(10, 1, []),
    };

    private static async Task<List<string>> CopiedAsync(InfluxConnection connection)
    {
        var rows = new List<string>();
        await connection.QueryAsync(
            "SELECT \"truck\", \"hours\" FROM \"run\"",
            row =>
            {
                if (!row.IsHeader)
                {
                    var hour = (long.Parse(row[2], System.Globalization.CultureInfo.InvariantCulture) - Day.ToUnixTimeMilliseconds()) / 3_600_000.0;
                    rows.Add(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{row[3]} {hour} {row[4]}"));
                }
            },
            CancellationToken.None);
        rows.Sort(StringComparer.Ordinal);
        return rows;
    }

    private async Task<InfluxConnection> ConnectAsync() =>
        new(new InfluxOptions { Url = influx.Shim.Url, Bucket = await influx.Daemon.CreateDatabaseAsync() });
}
