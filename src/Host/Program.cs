using Vanehour.Host;

return await Cli.RunAsync(args, CliEnvironment.Current());
