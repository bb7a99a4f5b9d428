using System.Diagnostics;
using System.Text.Json;

namespace Vanehour.Reports.Tests.Calendars;

/// <summary>
/// Reads a calendar with a parser that is not ours: Debian's python3-icalendar. Where it is not installed tests are skipped, unless the environment
/// variable <c>VANEHOUR_REQUIRE_SERVICES</c> is 1: then they fail.
/// </summary>
internal static class PythonCalendar
{
    private const string Python = "/usr/bin/python3";

    /// <summary>Checks the bytes and gives the events, or skips the test.</summary>
    public static IReadOnlyList<ReadEvent> Read(string text)
    {
        if (!File.Exists(Python) || Run("-c", "import icalendar").Code != 0)
        {
            Assert.False(Environment.GetEnvironmentVariable("VANEHOUR_REQUIRE_SERVICES") == "1", "python3-icalendar is not installed, and VANEHOUR_REQUIRE_SERVICES=1 asks for it.");
            Skip.If(true, "python3-icalendar is not installed.");
        }

        var file = Path.GetTempFileName();
        try
        {
            File.WriteAllText(file, text);
            var (code, output, error) = Run(Path.Combine(AppContext.BaseDirectory, "Calendars", "read_calendar.py"), file);
            Assert.True(code == 0, error);
            using var json = JsonDocument.Parse(output);
            return
            [
                .. json.RootElement.EnumerateArray().Select(e => new ReadEvent(
                    Said(e, "uid"), e.GetProperty("sequence").GetInt32(), Said(e, "status"), Said(e, "start"), Said(e, "end"), Said(e, "summary"), Said(e, "description"), Said(e, "location"))),
            ];
        }
        finally
        {
            File.Delete(file);
        }

        static string Said(JsonElement e, string name) => e.GetProperty(name).GetString()!;
    }

    private static (int Code, string Output, string Error) Run(params string[] args)
    {
        using var process = Process.Start(new ProcessStartInfo(Python, args) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        var error = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output, error.GetAwaiter().GetResult());
    }
}
