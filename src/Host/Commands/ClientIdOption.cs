using System.CommandLine;

namespace Vanehour.Host.Commands;

/// <summary>The option that names the worker at the broker.</summary>
internal static class ClientIdOption
{
    public static Option<string?> Create()
    {
        var option = new Option<string?>("--client-id")
        {
            Description = "The worker's client id at the broker; default as set in Ingest:ClientId, else one that is kept in the data folder.",
            HelpName = "ID",
        };
        option.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && string.IsNullOrWhiteSpace(result.Tokens[0].Value))
            {
                result.AddError("--client-id needs a name.");
            }
        });
        return option;
    }
}
