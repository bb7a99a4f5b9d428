using System.Globalization;
using Vanehour.Bench;
using Vanehour.Models.VaneWear;

// dotnet run --project bench/Studies -c Release -- prepare FOLDER TRUCKS MONTHS SEED [faults|none|drift] [dirt]
// then, as often as wanted: vanehour evaluate --data FOLDER --truth FOLDER.truth.jsonl
if (args is ["prepare", var folder, var trucks, var months, var seed, .. var more])
{
    var options = StudyFleet.Options(
        int.Parse(trucks, CultureInfo.InvariantCulture),
        int.Parse(months, CultureInfo.InvariantCulture),
        long.Parse(seed, CultureInfo.InvariantCulture),
        more);
    await StudyFleet.PrepareAsync(options, folder, Console.Out);
    return 0;
}

// What an analysis as of a date made of one truck's wear: Studies wear FOLDER TRUCK DATE...
if (args is ["wear", var data, var truck, .. var dates])
{
    await StudyFleet.WearAsync(data, truck, dates, Console.Out);
    return 0;
}

// Forecasts of the wear limit held against the truth: Studies forecasts FOLDER... [--every DAYS] [--from WEEK] [--curve-only] [--cases FILE]
if (args is ["forecasts", .. var folders] && folders.Length > 0)
{
    var options = new WearOptions();
    var study = new WearStudy(new FleetWear(folders.Contains("--curve-only") ? options with { FewestEndedLives = int.MaxValue } : options), Number("--every", 7), Number("--from", 4));
    foreach (var (number, of) in folders.TakeWhile(f => !f.StartsWith("--", StringComparison.Ordinal)).Index())
    {
        await study.AddAsync(number, of);
    }

    study.Write(Console.Out);
    if (Array.IndexOf(folders, "--cases") is var at and >= 0)
    {
        await using var file = File.CreateText(folders[at + 1]);
        study.WriteCases(file);
    }

    return 0;

    int Number(string name, int otherwise) => Array.IndexOf(folders, name) is var i and >= 0 ? int.Parse(folders[i + 1], CultureInfo.InvariantCulture) : otherwise;
}

// A big fleet for the Board out of a small one: Studies board-fleet SOURCE TARGET TRUCKS; then 'vanehour board --data TARGET' and Studies board-speed ADDRESS TIMES
if (args is ["board-fleet", var small, var big, var count])
{
    await BoardFleet.MakeAsync(small, big, int.Parse(count, CultureInfo.InvariantCulture), Console.Out);
    return 0;
}

if (args is ["board-speed", var address, var times])
{
    await BoardSpeed.RunAsync(address, int.Parse(times, CultureInfo.InvariantCulture), Console.Out);
    return 0;
}

// How long wear takes: Studies wear-speed PUMPS CHECKS
if (args is ["wear-speed", var pumps, var checks])
{
    WearSpeed.Run(int.Parse(pumps, CultureInfo.InvariantCulture), int.Parse(checks, CultureInfo.InvariantCulture), Console.Out);
    return 0;
}

// Learned remaining life on the engines of C-MAPSS FD001; the test file is scored only when asked: Studies engines FOLDER [--test]
if (args is ["engines", var engines, .. var test])
{
    EngineStudy.Run(engines, test.Contains("--test"), Console.Out);
    return 0;
}

// What maintenance policies cost on a simulated fleet: Studies policies TRUCKS MONTHS SEED [faults|none|drift]
if (args is ["policies", var fleetTrucks, var fleetMonths, var fleetSeed, .. var moreOf])
{
    PolicyCostStudy.Run(
        StudyFleet.Options(
            int.Parse(fleetTrucks, CultureInfo.InvariantCulture), int.Parse(fleetMonths, CultureInfo.InvariantCulture), long.Parse(fleetSeed, CultureInfo.InvariantCulture), moreOf) with
        { HistoryYears = 8 },
        Console.Out);
    return 0;
}

// How long plans take: Studies plan-speed PUMPS WEEKS
if (args is ["plan-speed", var planPumps, var planWeeks])
{
    PlanSpeed.Run(int.Parse(planPumps, CultureInfo.InvariantCulture), int.Parse(planWeeks, CultureInfo.InvariantCulture), Console.Out);
    return 0;
}

await Console.Error.WriteLineAsync("Studies prepare FOLDER TRUCKS MONTHS SEED [faults|none|drift] [dirt] | wear FOLDER TRUCK DATE... | forecasts FOLDER... [--every DAYS] [--from WEEK] [--curve-only] [--cases FILE] | wear-speed PUMPS CHECKS | engines FOLDER [--test] | policies TRUCKS MONTHS SEED [faults|none|drift] | plan-speed PUMPS WEEKS");
return 2;
