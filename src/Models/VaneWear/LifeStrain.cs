namespace Vanehour.Models.VaneWear;

/// <summary>What may have sped up wear in the course of one life, run by run.</summary>
internal sealed class LifeStrain
{
    private readonly double[] endsH;
    private readonly double[] hoursH;
    private readonly Strain[] sums;
    private readonly Strain unheard;

    /// <summary>Sums up the runs of a life.</summary>
    /// <param name="runs">End of each run in hours since fitting, its length, h, and what is known of it about the fleet's mean.</param>
    public LifeStrain(IReadOnlyList<(double EndH, double HoursH, double? Speed, double? Heat, double? Oil)> runs)
    {
        endsH = [.. runs.Select(r => r.EndH)];
        hoursH = new double[runs.Count + 1];
        sums = new Strain[runs.Count + 1];

        // A truck goes on at the speed that it is set to; of heat and oil what is not known counts as the fleet's mean.
        var knownH = runs.Where(r => r.Speed is not null).Sum(r => r.HoursH);
        unheard = new Strain(knownH > 0 ? runs.Sum(r => r.HoursH * (r.Speed ?? 0)) / knownH : 0, 0, 0);
        for (var i = 0; i < runs.Count; i++)
        {
            var (_, lengthH, speed, heat, oil) = runs[i];
            hoursH[i + 1] = hoursH[i] + lengthH;
            sums[i + 1] = new Strain(sums[i].Speed + (lengthH * (speed ?? unheard.Speed)), sums[i].Heat + (lengthH * (heat ?? 0)), sums[i].Oil + (lengthH * (oil ?? 0)));
        }
    }

    /// <summary>A life without runs.</summary>
    public static LifeStrain None { get; } = new([]);

    /// <summary>Mean over the runs that ended between two hours since fitting, by their hours.</summary>
    public Strain Mean(double fromH, double toH)
    {
        var (first, end) = (After(fromH), After(toH));
        var spanH = hoursH[end] - hoursH[first];
        if (end <= first || !(spanH > 0))
        {
            return unheard;
        }

        var sum = sums[end].Less(sums[first]);
        return new Strain(sum.Speed / spanH, sum.Heat / spanH, sum.Oil / spanH);
    }

    // How many runs ended by then.
    private int After(double atH)
    {
        var (low, high) = (0, endsH.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (endsH[middle] <= atH)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low;
    }
}
