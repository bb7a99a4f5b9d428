using System.Globalization;
using Vanehour.Bench.Checks;

// dotnet run --project bench/Checks -c Release -- checks 201,202,203
// dotnet run --project bench/Checks -c Release -- dirt 201
// dotnet run --project bench/Checks -c Release -- limits 213 [INHG_ABOVE_RELIEF]
if (args is not [("checks" or "details" or "dirt" or "limits") and var verb, var list, .. var more])
{
    Console.Error.WriteLine("checks SEED,SEED... | details SEED,SEED... | dirt SEED,SEED... | limits SEED,SEED... [INHG_ABOVE_RELIEF]");
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
    LimitStudy.Run(seeds, more is [var above] ? double.Parse(above, CultureInfo.InvariantCulture) : null, Console.Out);
}
else
{
    DirtStudy.Run(seeds, Console.Out);
}

return 0;
