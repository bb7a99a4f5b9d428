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

// Forecasts of the wear limit held against the truth, week by week: Studies forecasts FOLDER... [--cases FILE]
if (args is ["forecasts", .. var folders] && folders.Length > 0)
{
    var cases = Array.IndexOf(folders, "--cases");
    var study = new WearStudy(new FleetWear(new WearOptions()));
    foreach (var (number, of) in (cases < 0 ? folders : folders[..cases]).Index())
    {
        await study.AddAsync(number, of);
    }

    study.Write(Console.Out);
    if (cases >= 0)
    {
        await using var file = File.CreateText(folders[cases + 1]);
        study.WriteCases(file);
    }

    return 0;
}

// How long wear takes: Studies wear-speed PUMPS CHECKS
if (args is ["wear-speed", var pumps, var checks])
{
    WearSpeed.Run(int.Parse(pumps, CultureInfo.InvariantCulture), int.Parse(checks, CultureInfo.InvariantCulture), Console.Out);
    return 0;
}

await Console.Error.WriteLineAsync("Studies prepare FOLDER TRUCKS MONTHS SEED [faults|none|drift] [dirt] | wear FOLDER TRUCK DATE... | forecasts FOLDER... [--cases FILE] | wear-speed PUMPS CHECKS");
return 2;
