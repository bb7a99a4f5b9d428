namespace Vanehour.Bench.Faults.Feed;

/// <summary>
/// What the trucks send, decided by a seed: packs of a random truck in order, and among them one in twenty sent again later, one in twenty held
/// back as by a truck out of coverage, and one in ten followed some time by the ambient temperature of the same instants.
/// </summary>
/// <param name="seed">Decides.</param>
/// <param name="trucks">How many trucks.</param>
/// <param name="startS">The first instant, Unix s.</param>
/// <param name="plain">Only packs in order: for measuring speed.</param>
internal sealed class MessagePlan(int seed, int trucks, long startS = MessagePlan.DefaultStartS, bool plain = false)
{
    /// <summary>2026-01-02T08:00:00Z: long past.</summary>
    public const long DefaultStartS = 1_767_340_800;

    private readonly Random random = new(seed);
    private readonly int[] packs = new int[trucks];
    private readonly Queue<PlannedMessage> later = new();
    private readonly PlannedMessage?[] recent = new PlannedMessage?[2000];
    private int count;

    /// <summary>The next message.</summary>
    public PlannedMessage Next()
    {
        if (plain)
        {
            return Fresh(count++ % trucks);
        }

        var dice = random.Next(100);
        if (dice < 10 && later.Count > 200)
        {
            return Keep(later.Dequeue());
        }

        if (dice < 15 && recent[random.Next(recent.Length)] is { } again)
        {
            return again;
        }

        var message = Fresh(random.Next(trucks));
        if (dice < 25)
        {
            later.Enqueue(message with { IsAmbient = true });
        }
        else if (dice < 30)
        {
            later.Enqueue(message);
            message = Fresh(message.Truck);
        }

        return Keep(message);
    }

    /// <summary>What is still held back, until there is none.</summary>
    public PlannedMessage? NextHeldBack() => later.TryDequeue(out var message) ? message : null;

    private PlannedMessage Fresh(int truck) =>
        new(truck, startS + ((long)packs[truck]++ * PlannedMessage.Instants * PlannedMessage.StepS), IsAmbient: false);

    private PlannedMessage Keep(PlannedMessage message)
    {
        recent[count++ % recent.Length] = message;
        return message;
    }
}
