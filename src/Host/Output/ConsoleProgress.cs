using System.Globalization;
using Spectre.Console;

namespace Vanehour.Host.Output;

/// <summary>
/// Shows long work on standard error: bars on a terminal, a plain line per step (and at most one every few seconds) elsewhere.
/// </summary>
public sealed class ConsoleProgress
{
    private static readonly TimeSpan BetweenLines = TimeSpan.FromSeconds(5);

    private readonly TextWriter error;
    private readonly TimeProvider time;
    private readonly bool isTerminal;

    /// <param name="error">Standard error.</param>
    /// <param name="time">The clock that spaces plain lines.</param>
    /// <param name="isTerminal">Whether a person watches.</param>
    public ConsoleProgress(TextWriter error, TimeProvider time, bool isTerminal)
    {
        this.error = error;
        this.time = time;
        this.isTerminal = isTerminal;
    }

    /// <summary>Says something that is no step.</summary>
    public void Say(string sentence) => error.WriteLine(sentence);

    /// <summary>Runs <paramref name="work"/> as one step; it reports the share done, 0..1.</summary>
    public async Task<T> StepAsync<T>(string title, Func<IProgress<double>, Task<T>> work)
    {
        ArgumentNullException.ThrowIfNull(work);
        var started = time.GetTimestamp();
        T result;
        if (isTerminal)
        {
            var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(error) });
            result = await console.Progress()
                .Columns(new TaskDescriptionColumn { Alignment = Justify.Left }, new ProgressBarColumn(), new PercentageColumn(), new ElapsedTimeColumn())
                .StartAsync(async context =>
                {
                    var task = context.AddTask(Markup.Escape(title), maxValue: 1);
                    var value = await work(new Direct(share => task.Value = Math.Clamp(share, 0, 1)));
                    task.Value = 1;
                    return value;
                });
        }
        else
        {
            var last = started;
            error.WriteLine($"{title} ...");
            result = await work(new Direct(share =>
            {
                if (time.GetElapsedTime(last) >= BetweenLines)
                {
                    last = time.GetTimestamp();
                    error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{title} ... {share:P0}"));
                }
            }));
            error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{title}: done in {time.GetElapsedTime(started).TotalSeconds:0.0} s"));
        }

        return result;
    }

    /// <summary>Reports at once: the framework's own hands values to the thread pool, where they can overtake each other.</summary>
    private sealed class Direct(Action<double> report) : IProgress<double>
    {
        private readonly Lock gate = new();

        public void Report(double value)
        {
            lock (gate)
            {
                report(value);
            }
        }
    }
}
