using System.Globalization;
using Vanehour.Bench.Checks;

// dotnet run --project bench/Checks -c Release -- checks 201,202,203
// dotnet run --project bench/Checks -c Release -- dirt 201
// dotnet run --project bench/Checks -c Release -- limits 213
if (args is not [("checks" or "details" or "dirt" or "limits") and var verb, var list])
{
    Console.Error.WriteLine("checks SEED,SEED... | details SEED,SEED... | dirt SEED,SEED... | limits SEED,SEED...");
    return 2;
}

var seeds = list.Split(',').Select(s => long.Parse(s, CultureInfo.InvariantCulture)).ToArray();
if (verb == "checks")
{
    CheckStudy.Run(seeds, Console.Out);
}
else if (verb == "details")
{
    CheckDetails.Run(seeds, Console.Out);
}
else if (verb == "limits")
{
    LimitStudy.Run(seeds, Console.Out);
}
else
{
    DirtStudy.Run(seeds, Console.Out);
}

return 0;
