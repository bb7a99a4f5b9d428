using System.CommandLine;

namespace Vanehour.Host.Commands;

/// <summary>The options that every command takes.</summary>
public sealed class GlobalOptions
{
    /// <summary>The data folder unless another is named.</summary>
    public const string DefaultFolder = "vanehour-data";

    /// <summary>The data folder.</summary>
    public Option<string> Data { get; } = new("--data")
    {
        Description = "The folder that holds the databases, vanehour.json and reports.",
        DefaultValueFactory = _ => DefaultFolder,
        Recursive = true,
        HelpName = "DIR",
    };
}
