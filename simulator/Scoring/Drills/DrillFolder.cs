using System.Globalization;
using System.Text.Json;
using Vanehour.Fleet;

namespace Vanehour.Scoring.Drills;

/// <summary>A drill in its data folder: what trainees may know in drill.json, the truth in drill.sealed beside it. Several programs may use it at once.</summary>
public sealed class DrillFolder
{
    /// <summary>The file with what a trainee may know; a folder that has it is a drill's.</summary>
    public const string FileName = "drill.json";

    /// <summary>The sealed truth.</summary>
    public const string SealedName = "drill.sealed";

    /// <summary>The simulator's truth in the clear, written at the reveal.</summary>
    public const string TruthName = "drill.truth.jsonl";

    private const int LongestName = 60;
    private const int LongestNote = 500;

    private static readonly TimeSpan LockWait = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan LockRetry = TimeSpan.FromMilliseconds(20);

    private DrillFolder(string folder) => Folder = folder;

    /// <summary>The folder's full path.</summary>
    public string Folder { get; }

    private string InfoPath => Path.Combine(Folder, FileName);

    private string SealedPath => Path.Combine(Folder, SealedName);

    /// <summary>Whether a folder is a drill's.</summary>
    public static bool IsDrill(string folder) => File.Exists(Path.Combine(folder, FileName));

    /// <summary>Sees that a folder can take a new drill: it must be missing or empty.</summary>
    /// <exception cref="DrillRefusedException">Anything is in it.</exception>
    public static void RequireEmpty(string folder)
    {
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
        {
            throw new DrillRefusedException($"{Path.GetFullPath(folder)} is not empty, and a drill never mixes with other data; name a new folder with --data.");
        }
    }

    /// <summary>Puts a drill into a folder whose data is ready, drill.json last.</summary>
    public static DrillFolder Create(string folder, DrillInfo drill, DrillTruth truth)
    {
        ArgumentNullException.ThrowIfNull(drill);
        ArgumentNullException.ThrowIfNull(truth);
        var result = new DrillFolder(Path.GetFullPath(folder));
        Directory.CreateDirectory(result.Folder);
        File.WriteAllBytes(result.SealedPath, DrillSeal.Close(truth, Bound(drill)));
        result.Write(drill);
        return result;
    }

    /// <summary>Opens a drill.</summary>
    /// <exception cref="DrillRefusedException">The folder holds none.</exception>
    public static DrillFolder Open(string folder) => IsDrill(folder)
        ? new DrillFolder(Path.GetFullPath(folder))
        : throw new DrillRefusedException($"There is no drill in {Path.GetFullPath(folder)}; name its folder with --data, or set one up with 'vanehour drill new'.");

    /// <summary>What a trainee may know.</summary>
    /// <exception cref="DrillRefusedException">The file cannot be read.</exception>
    public DrillInfo Read()
    {
        try
        {
            return JsonSerializer.Deserialize(File.ReadAllBytes(InfoPath), DrillsJson.Default.DrillInfo) ?? throw new JsonException("It is empty.");
        }
        catch (JsonException e)
        {
            throw new DrillRefusedException($"{InfoPath} cannot be read; set the drill up anew in another folder.", e);
        }
    }

    /// <summary>Keeps an answer. A second one by the same person replaces the first and counts as an attempt.</summary>
    /// <param name="truck">Which truck.</param>
    /// <param name="cause">What is wrong with it; null: nothing is.</param>
    /// <param name="action">What to do about it.</param>
    /// <param name="by">Who says so; case does not matter.</param>
    /// <param name="note">What else there is to say.</param>
    /// <param name="at">When.</param>
    /// <returns>The answer as it is kept, or why it is refused.</returns>
    /// <exception cref="DrillRefusedException">The drill's file cannot be read, or another program holds it.</exception>
    public DrillSubmission Submit(string truck, Cause? cause, DrillAction action, string by, string? note, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(truck);
        ArgumentNullException.ThrowIfNull(by);
        var name = by.Trim();
        var text = string.IsNullOrWhiteSpace(note) ? null : note.Trim();
        if (name.Length is 0 or > LongestName || name.Any(char.IsControl))
        {
            return Refuse($"Say who answers, in at most {LongestName} letters.");
        }

        if (text?.Length > LongestNote)
        {
            return Refuse($"The note is longer than {LongestNote} letters; shorten it.");
        }

        if (!Enum.IsDefined(action) || (cause is { } named && !DrillCases.Default.Groups.Any(g => g.Causes.Contains(named))))
        {
            return Refuse("The cause or the action is not one that a truck can have; 'vanehour drill show' lists them.");
        }

        using var held = Hold();
        var drill = Read();
        if (drill.Revealed)
        {
            return Refuse(string.Create(CultureInfo.InvariantCulture, $"This drill was revealed on {drill.RevealedAt:yyyy-MM-dd HH:mm}Z, so it takes no more answers; set up a new one with another seed."));
        }

        if (drill.Trucks.FirstOrDefault(t => string.Equals(t, truck.Trim(), StringComparison.OrdinalIgnoreCase)) is not { } known)
        {
            return Refuse($"There is no truck '{truck}' in this drill; its trucks are {string.Join(", ", drill.Trucks)}.");
        }

        var before = drill.Answers.FirstOrDefault(a => string.Equals(a.By, name, StringComparison.OrdinalIgnoreCase));
        var answer = new DrillAnswer(before?.By ?? name, known, cause, action, text, at, (before?.Attempts ?? 0) + 1);
        Write(drill with { Answers = [.. drill.Answers.Where(a => a != before), answer] });
        return new DrillSubmission(answer, before is null
            ? $"Kept: {answer.By} says {Words(answer)}."
            : $"Kept as attempt {answer.Attempts}: {answer.By} now says {Words(answer)}; the answer before no longer counts.");

        static DrillSubmission Refuse(string sentence) => new(null, sentence);
        static string Words(DrillAnswer a) => $"{a.Truck}, {a.Cause?.ToString() ?? "None"}, {a.Action}";
    }

    /// <summary>Shows the truth and the scores, and closes the drill for answers. Shown again, it shows the same.</summary>
    /// <param name="at">When.</param>
    /// <exception cref="DrillRefusedException">The sealed file is missing, damaged or of another drill, or another program holds it.</exception>
    public DrillReveal Reveal(DateTimeOffset at)
    {
        using var held = Hold();
        var drill = Read();
        var content = new byte[held.Length];
        held.ReadExactly(content);
        var truth = DrillSeal.Open(content, Bound(drill))
            ?? throw new DrillRefusedException($"{SealedPath} cannot be opened: it is damaged, or it or {FileName} was changed; set the drill up anew in another folder.");
        if (!drill.Revealed)
        {
            File.WriteAllLines(Path.Combine(Folder, TruthName), truth.TruthLines);
            drill = drill with { RevealedAt = at };
            Write(drill);
        }

        return new DrillReveal(
            drill,
            truth,
            [.. drill.Answers.Select(a => DrillScorer.Of(truth, a)).OrderByDescending(s => s.Total).ThenBy(s => s.Answer.At)],
            DrillScorer.Rule);
    }

    /// <summary>As <see cref="Reveal"/> shows it, where that was done; null while the truth is sealed.</summary>
    /// <exception cref="DrillRefusedException">As <see cref="Reveal"/>.</exception>
    public DrillReveal? Revealed() => Read().RevealedAt is { } at ? Reveal(at) : null;

    // What the truth belongs to: other answers do not change it, another drill's data do.
    private static string Bound(DrillInfo drill) => string.Create(
        CultureInfo.InvariantCulture, $"{drill.Title}|{drill.Difficulty}|{drill.Seed}|{drill.AsOf.ToUnixTimeSeconds()}|{drill.Complaint}|{drill.ComplainedTruck}");

    // The sealed file is never replaced, so it serves as the lock.
    private FileStream Hold()
    {
        for (var waited = TimeSpan.Zero; ; waited += LockRetry)
        {
            try
            {
                return new FileStream(SealedPath, FileMode.Open, FileAccess.ReadWrite, FileShare.None);
            }
            catch (FileNotFoundException e)
            {
                throw new DrillRefusedException($"{SealedPath} is missing, so this drill cannot be scored; set it up anew in another folder.", e);
            }
            catch (IOException) when (waited < LockWait)
            {
                Task.Delay(LockRetry, TimeProvider.System).Wait();
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                throw new DrillRefusedException($"{SealedPath} cannot be opened: another program holds it or it is read-only; try again.", e);
            }
        }
    }

    private void Write(DrillInfo drill)
    {
        var part = InfoPath + ".part";
        File.WriteAllBytes(part, JsonSerializer.SerializeToUtf8Bytes(drill, DrillsJson.Default.DrillInfo));
        File.Move(part, InfoPath, overwrite: true);
    }
}
