using Vanehour.Fleet.Runs;
using Vanehour.Models.Tests.Synthetic;

namespace Vanehour.Models.Tests.VaneWear;

/// <summary>Runs with a start-up check of given readings.</summary>
internal static class CheckRuns
{
    public static Run At(double hoursH, double flow, double se, double? tightness)
    {
        var start = SyntheticFleet.Begin.AddHours(hoursH * 4);
        var template = new SyntheticFleet([new SyntheticTruck { Id = "T1" }], 1, 1, 1).RunsOf("T1")[0];
        return template with
        {
            Start = start,
            End = start.AddHours(1),
            HoursH = 1,
            MeterStartH = 1000 + hoursH,
            MeterEndH = 1001 + hoursH,
            FirstPumpDown = template.FirstPumpDown! with
            {
                Start = start,
                NetFlowPerVolumePerS = flow,
                NetFlowPerVolumeSe = se,
                FlowPerVolumePerS = flow / (tightness ?? 1),
                LeakPerVolumePerS = tightness is { } t ? flow / t * (1 - t) / (40 / (101.325 - 40)) : null,
            },
        };
    }
}
