using Vanehour.Bench.Faults;

return await FaultsCommand.Create().Parse(args).InvokeAsync();
