using Vanehour.Store.Telemetry;

namespace Vanehour.Host.Moving;

/// <summary>Turns samples done of one truck after the other into a share of all.</summary>
/// <param name="trucks">The trucks, with how many samples each has.</param>
/// <param name="share">Who is told the share, 0..1.</param>
internal sealed class ShareOfTrucks(IReadOnlyList<TruckExtent> trucks, IProgress<double> share)
{
    private readonly double all = Math.Max(1, trucks.Sum(t => t.Samples));
    private long done;

    public void Report(TruckExtent truck, long samples) => share.Report((done + Math.Min(samples, truck.Samples)) / all);

    public void Done(TruckExtent truck)
    {
        done += truck.Samples;
        share.Report(done / all);
    }
}
