using System.Globalization;
using System.Runtime.InteropServices;
using Vanehour.Bench.Faults.Brokers;
using Vanehour.Bench.Faults.Workers;

namespace Vanehour.Bench.Faults.Reporting;

/// <summary>What the figures were measured on, without any name of it.</summary>
internal static class Machine
{
    public static async Task<string> DescribeAsync()
    {
        var broker = await BrokerVersionAsync();
        var memoryGb = GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / 1e9;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Environment.ProcessorCount} cores ({RuntimeInformation.ProcessArchitecture}), {memoryGb:0} GB of memory, {OperatingSystemName()}, {RuntimeInformation.FrameworkDescription}, {broker}");
    }

    private static string OperatingSystemName()
    {
        const string Release = "/etc/os-release";
        if (!File.Exists(Release))
        {
            return RuntimeInformation.OSDescription;
        }

        var line = Array.Find(File.ReadAllLines(Release), l => l.StartsWith("PRETTY_NAME=", StringComparison.Ordinal));
        return line is null ? "Linux" : line["PRETTY_NAME=".Length..].Trim('"');
    }

    private static async Task<string> BrokerVersionAsync()
    {
        if (Mosquitto.Program is not { } program)
        {
            return "no mosquitto";
        }

        await using var help = ChildProcess.Start(program, ["-h"]);
        await help.WaitAsync(TimeSpan.FromSeconds(60));
        return help.Lines.FirstOrDefault()?.Replace(" version", "", StringComparison.Ordinal) ?? "mosquitto";
    }
}
