using System.CommandLine;
using Vanehour.Ingest.Feed;

namespace Vanehour.Host.Commands;

/// <summary>The option that names a broker.</summary>
public static class BrokerOption
{
    /// <summary>Makes the option.</summary>
    public static Option<BrokerAddress?> Create(string description) => new("--broker")
    {
        Description = description,
        HelpName = "mqtt[s]://HOST[:PORT]",
        CustomParser = result =>
        {
            var address = BrokerAddress.TryParse(result.Tokens.Count == 1 ? result.Tokens[0].Value : string.Empty, out var problem);
            if (problem is not null)
            {
                result.AddError(problem);
            }

            return address;
        },
    };
}
