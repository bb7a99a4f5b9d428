using System.Text.Json;
using Vanehour.Simulator;

namespace Vanehour.Host.Demo;

/// <summary>Which simulated fleet a demo's data folder holds, so that another one is not mixed into it.</summary>
/// <param name="Trucks">How many trucks.</param>
/// <param name="Months">How many months.</param>
/// <param name="Seed">The seed.</param>
/// <param name="From">The first day.</param>
public sealed record DemoSettings(int Trucks, int Months, long Seed, DateOnly From)
{
    /// <summary>The file's name in the data folder.</summary>
    public const string FileName = "demo.json";

    /// <summary>The settings of a simulation.</summary>
    public static DemoSettings Of(SimulationOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return new DemoSettings(options.Trucks, options.Months, options.Seed, options.From);
    }

    /// <summary>What a data folder holds, or null where it holds no demo.</summary>
    /// <exception cref="CommandFailedException">The file cannot be read.</exception>
    public static DemoSettings? Read(string folder)
    {
        var path = Path.Combine(folder, FileName);
        if (!File.Exists(path))
        {
            return null;
        }

        try
        {
            return JsonSerializer.Deserialize(File.ReadAllBytes(path), DemoJson.Default.DemoSettings);
        }
        catch (JsonException e)
        {
            throw new CommandFailedException($"{path} cannot be read; move the folder away or choose another with --data.", e);
        }
    }

    /// <summary>Notes it in a data folder.</summary>
    public void Write(string folder) =>
        File.WriteAllBytes(Path.Combine(folder, FileName), JsonSerializer.SerializeToUtf8Bytes(this, DemoJson.Default.DemoSettings));
}
