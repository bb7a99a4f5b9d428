using Vanehour.Board.Desk;
using Vanehour.Fleet;
using Vanehour.Host.Output;
using Vanehour.Scoring.Drills;

namespace Vanehour.Host.Pages;

/// <summary>A drill as the pages show it.</summary>
/// <param name="drill">The drill's folder.</param>
/// <param name="isTrade">Whether in the trade's units.</param>
/// <param name="time">The clock.</param>
internal sealed class DrillDesk(DrillFolder drill, bool isTrade, TimeProvider time) : ITrainingDesk
{
    private readonly Lock gate = new();

    public TrainingCase Case
    {
        get
        {
            lock (gate)
            {
                var info = drill.Read();
                var reveal = drill.Revealed();
                return new TrainingCase(
                    info.Title,
                    info.Difficulty,
                    info.Complaint,
                    info.ComplainedTruck,
                    [.. Enum.GetValues<DrillAction>().Select(a => (a.ToString(), Words(a)))],
                    reveal is null
                        ? [.. info.Answers.Select(a => (a.By, "has answered"))]
                        : [.. reveal.Scores.Select(s => (s.Answer.By, $"{s.Total} of 10 points for {s.Answer.Truck}, {s.Answer.Cause?.ToString() ?? "nothing wrong"}, {Words(s.Answer.Action)}"))],
                    reveal is null ? [] : Paragraphs(reveal));
            }
        }
    }

    public DeskAnswer Answer(string truck, string cause, string action, string? note, string by)
    {
        if (!Enum.IsDefined(typeof(DrillAction), action) || (cause != "None" && !Enum.IsDefined(typeof(Cause), cause)))
        {
            return new DeskAnswer(false, ["Choose what is wrong and what should be done."]);
        }

        return Try(() =>
        {
            var result = drill.Submit(truck, cause == "None" ? null : Enum.Parse<Cause>(cause), Enum.Parse<DrillAction>(action), by, note, time.GetUtcNow());
            return new DeskAnswer(result.Accepted, [result.Sentence]);
        });
    }

    public DeskAnswer Reveal(string by) => Try(() =>
    {
        drill.Reveal(time.GetUtcNow());
        return new DeskAnswer(true, ["The truth and the scores are below."]);
    });

    private DeskAnswer Try(Func<DeskAnswer> work)
    {
        lock (gate)
        {
            try
            {
                return work();
            }
            catch (DrillRefusedException e)
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
