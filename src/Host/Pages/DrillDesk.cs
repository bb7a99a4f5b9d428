using Vanehour.Board.Desk;
using Vanehour.Fleet;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Pages;

/// <summary>A drill as the pages show it.</summary>
/// <param name="drill">The drill's folder.</param>
/// <param name="deeds">Where it is noted who did what.</param>
/// <param name="isTrade">Whether in the trade's units.</param>
/// <param name="time">The clock.</param>
internal sealed class DrillDesk(DrillFolder drill, DeedNotes deeds, bool isTrade, TimeProvider time) : ITrainingDesk
{
    private readonly Lock gate = new();

    // Once shown it stays the same, and unsealing it takes the folder's lock.
    private DrillReveal? revealed;

    public TrainingCase Case
    {
        get
        {
            lock (gate)
            {
                try
                {
                    return Read();
                }
                catch (Exception e) when (e is DrillRefusedException or IOException or UnauthorizedAccessException)
                {
                    return new TrainingCase("The exercise cannot be read", 0, e.Message, null, [], [], []);
                }
            }
        }
    }

    public DeskAnswer Answer(string truck, string cause, string action, string? note, string by)
    {
        if (!Enum.IsDefined(typeof(DrillAction), action) || (cause != "None" && !Enum.IsDefined(typeof(Cause), cause)))
        {
            return new DeskAnswer(false, ["Choose what is wrong and what should be done."]);
        }

        return Try(by, ["drill", "answer", truck, cause, action], () =>
        {
            var result = drill.Submit(truck, cause == "None" ? null : Enum.Parse<Cause>(cause), Enum.Parse<DrillAction>(action), by, note, time.GetUtcNow());
            return new DeskAnswer(result.Accepted, [result.Sentence]);
        });
    }

    public DeskAnswer Reveal(string by) => Try(by, ["drill", "reveal"], () =>
    {
        if (drill.Read() is { Answers.Length: 0, Revealed: false })
        {
            return new DeskAnswer(false, ["Nobody has answered yet, and after the reveal nobody can."]);
        }

        revealed = drill.Reveal(time.GetUtcNow());
        return new DeskAnswer(true, ["The truth and the scores are below."]);
    });

    private TrainingCase Read()
    {
        var info = drill.Read();
        revealed ??= info.Revealed ? drill.Revealed() : null;
        return new TrainingCase(
            info.Title,
            info.Difficulty,
            info.Complaint,
            info.ComplainedTruck,
            [.. Enum.GetValues<DrillAction>().Select(a => (a.ToString(), Words(a)))],
            revealed is null
                ? [.. info.Answers.Select(a => (a.By, "has answered"))]
                : [.. revealed.Scores.Select(s => (s.Answer.By, $"{s.Total} of 10 points for {s.Answer.Truck}, {s.Answer.Cause?.ToString() ?? "nothing wrong"}, {Words(s.Answer.Action)}"))],
            revealed is null ? [] : Paragraphs(revealed));
    }

    private DeskAnswer Try(string by, IReadOnlyList<string> deed, Func<DeskAnswer> work)
    {
        lock (gate)
        {
            try
            {
                using var notes = deeds.Open();
                var answer = work();
                try
                {
                    deeds.Note(notes, by, deed, answer.Done);
                    return answer;
                }
                catch (IOException e)
                {
                    return answer with { Sentences = [.. answer.Sentences, $"Who did it could not be noted: {e.Message}"] };
                }
            }
            catch (Exception e) when (e is DrillRefusedException or IOException or UnauthorizedAccessException)
            {
                return new DeskAnswer(false, [e.Message]);
            }
        }
    }

    private List<string> Paragraphs(DrillReveal reveal)
    {
        using var text = new StringWriter();
        DrillPage.Reveal(text, reveal, isTrade);
        return [.. text.ToString().Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0)];
    }

    private static string Words(DrillAction action) => action switch
    {
        DrillAction.StopNow => "Stop it now",
        DrillAction.RepairThisWeek => "Check and repair this week; it may work until then",
        DrillAction.PlanRebuild => "Book the rebuild",
        DrillAction.MeasureVanes => "Measure the vanes before anything is booked",
        DrillAction.CheckInstrument => "Check the instrument before the pump is touched",
        DrillAction.KeepWatching => "Nothing to repair: keep watching",
        _ => action.ToString(),
    };
}
