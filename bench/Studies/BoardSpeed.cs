using System.Diagnostics;
using System.Globalization;

namespace Vanehour.Bench;

/// <summary>How long the Board takes to answer, and how much it sends: each page asked for over and over, one after the other, over a connection that stays open.</summary>
internal static class BoardSpeed
{
    private static readonly string[] Pages = ["/", "/?needs=any", "/findings", "/plan", "/rounds", "/feeds", "/trucks/V0004", "/plan/V0004", "/models", "/api/stamp", "/api/wear"];

    public static async Task RunAsync(string address, int times, TextWriter output)
    {
        using var client = new HttpClient { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(10) };
        output.WriteLine("| page | first, ms | median, ms | 95 %, ms | kB |\n| --- | ---: | ---: | ---: | ---: |");
        foreach (var page in Pages)
        {
            var took = new List<double>();
            var size = 0;
            for (var i = 0; i <= times && (i < 4 || took.Sum() < 60_000); i++)
            {
                var watch = Stopwatch.StartNew();
                size = (await client.GetByteArrayAsync(new Uri(page, UriKind.Relative))).Length;
                took.Add(watch.Elapsed.TotalMilliseconds);
            }

            var later = took.Skip(1).Order().ToList();
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"| {page} | {took[0]:F0} | {later[later.Count / 2]:F0} | {later[(int)(0.95 * (later.Count - 1))]:F0} | {size / 1000.0:F0} |"));
        }
    }
}
