using System.CommandLine;
using Vanehour.Host.Settings;

namespace Vanehour.Host.Commands;

/// <summary>The option that says where samples are kept.</summary>
public static class StoreOption
{
    /// <summary>Makes the option.</summary>
    public static Option<StoreKind?> Create() => new("--store")
    {
        Description = "Where samples are kept; default as set in Store:Kind (sqlite). What influx needs is set in Store:Influx.",
        HelpName = "sqlite|influx",
    };
}
