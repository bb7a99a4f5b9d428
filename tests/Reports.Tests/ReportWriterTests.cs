using NSubstitute;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Runs;
using Vanehour.Reports.Tests.Stories;
using Vanehour.Store.Runs;

namespace Vanehour.Reports.Tests;

public sealed class ReportWriterTests : IDisposable
{
    private readonly string folder = Path.Combine(Path.GetTempPath(), "vanehour-reports-" + Path.GetRandomFileName());

    public void Dispose()
    {
        if (Directory.Exists(folder))
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("T07", "truck-T07.png")]
    [InlineData(".", "truck-..png")]
    [InlineData("..", "truck-...png")]
    [InlineData("CON", "truck-CON.png")]
    [InlineData("a.b-c_d", "truck-a.b-c_d.png")]
    public void Truck_IsWrittenIntoTheFolderUnderItsId(string id, string file)
    {
        var path = ReportWriter.WriteTruck(TruckStories.Empty() with { Truck = new TruckStory { Id = id }.Truck() }, folder, new ReportOptions());
        Assert.Equal(Path.Combine(folder, file), path);
        Assert.Equal(Path.GetFullPath(folder), Path.GetDirectoryName(Path.GetFullPath(path)));
        Assert.Equal([path], Directory.GetFiles(folder));
    }

    [Theory]
    [InlineData("")]
    [InlineData("../x")]
    [InlineData("a/b")]
    [InlineData("a\\b")]
    [InlineData("a\0")]
    [InlineData("é")]
    public void Id_ThatCouldHoldAPathIsRefused(string id)
    {
        var data = TruckStories.Empty() with { Truck = new TruckStory { Id = id }.Truck() };
        Assert.Throws<ArgumentException>(() => ReportWriter.WriteTruck(data, folder, new ReportOptions()));
        Assert.False(Directory.Exists(folder));
    }

    [Fact]
    public void LongestId_IsAValidFileName()
    {
        var path = ReportWriter.WriteTruck(TruckStories.Hostile.Tell(), folder, new ReportOptions());
        Assert.True(File.Exists(path));
    }

    [Fact]
    public void EarlierFile_IsReplaced()
    {
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "truck-T99.png"), "old");
        var path = ReportWriter.WriteTruck(TruckStories.Empty(), folder, new ReportOptions());
        Assert.Equal(Trucks.TruckReport.Render(TruckStories.Empty(), new ReportOptions()), File.ReadAllBytes(path));
    }

    [Fact]
    public void FailedMove_LeavesNothingBehind()
    {
        Directory.CreateDirectory(Path.Combine(folder, "truck-T99.png", "in-the-way"));
        Assert.ThrowsAny<Exception>(() => ReportWriter.WriteTruck(TruckStories.Empty(), folder, new ReportOptions()));
        Assert.Empty(Directory.GetFiles(folder));
    }

    [Fact]
    public void Fleet_DropsPagesOfAnEarlierLargerOne()
    {
        var large = FleetStory.Many(41);
        var options = new ReportOptions { Scale = 1 };
        Assert.Equal(
            ["fleet-overview.png", "fleet-overview-2.png", "fleet-overview-3.png"],
            ReportWriter.WriteFleet(large.Snapshot, large.Trucks, folder, options).Select(Path.GetFileName));
        var small = FleetStory.Many(1);
        Assert.Single(ReportWriter.WriteFleet(small.Snapshot, small.Trucks, folder, options));
        Assert.Equal([Path.Combine(folder, "fleet-overview.png")], Directory.GetFiles(folder));
    }

    [Fact]
    public void All_WritesTheOverviewAndEveryTruck()
    {
        var fleet = FleetStory.Many(3);
        var seen = new List<ReportProgress>();
        var files = ReportWriter.WriteAll(
            fleet.Snapshot, Register(fleet), Runs(fleet), folder, new ReportOptions { Scale = 1 }, progress: new Collect(seen));
        Assert.Equal(
            ["fleet-overview.png", "truck-VT-001.png", "truck-VT-002.png", "truck-VT-003.png"],
            files.Select(Path.GetFileName));
        Assert.All(files, f => Assert.True(File.Exists(f)));
        Assert.Equal([(1, 3), (2, 3), (3, 3)], seen.Select(p => (p.Done, p.Of)));
        Assert.Equal(Trucks.TruckReport.Render(fleet.Told[1] with { Service = [] }, new ReportOptions { Scale = 1 }), File.ReadAllBytes(files[2]));
    }

    [Fact]
    public void Some_WritesTheseOnly()
    {
        var fleet = FleetStory.Many(3);
        var files = ReportWriter.WriteAll(fleet.Snapshot, Register(fleet), Runs(fleet), folder, new ReportOptions { Scale = 1 }, ["VT-002"]);
        Assert.Equal([Path.Combine(folder, "truck-VT-002.png")], files);
        var failure = Assert.Throws<ArgumentException>(() =>
            ReportWriter.WriteAll(fleet.Snapshot, Register(fleet), Runs(fleet), folder, new ReportOptions(), ["VT-002", "vt-001"]));
        Assert.Contains("vt-001", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void IdsThatDifferByCaseOnly_KeepTheirOwnFiles()
    {
        var fleet = FleetStory.Of([new TruckStory { Id = "t1" }, new TruckStory { Id = "T1" }, new TruckStory { Id = "T2" }]);
        var files = ReportWriter.WriteAll(fleet.Snapshot, Register(fleet), Runs(fleet), folder, new ReportOptions { Scale = 1 });
        Assert.Equal(4, files.Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.EndsWith("truck-T2.png", files[2], StringComparison.Ordinal);
        var one = ReportWriter.WriteAll(fleet.Snapshot, Register(fleet), Runs(fleet), folder, new ReportOptions { Scale = 1 }, ["t1"]);
        Assert.Equal([files[3]], one);
    }

    [Fact]
    public void Cancellation_StopsBetweenFiles()
    {
        var fleet = FleetStory.Many(3);
        using var stop = new CancellationTokenSource();
        var progress = Substitute.For<IProgress<ReportProgress>>();
        progress.When(p => p.Report(Arg.Any<ReportProgress>())).Do(_ => stop.Cancel());
        Assert.Throws<OperationCanceledException>(() => ReportWriter.WriteAll(
            fleet.Snapshot, Register(fleet), Runs(fleet), folder, new ReportOptions { Scale = 1 }, progress: progress, cancellationToken: stop.Token));
        Assert.Equal(2, Directory.GetFiles(folder).Length);
    }

    private static IFleetRegister Register(FleetStory fleet)
    {
        var register = Substitute.For<IFleetRegister>();
        register.Trucks().Returns(fleet.Trucks);
        register.PumpModels().Returns([TruckStory.Model]);
        register.ServiceRecords(Arg.Any<string?>()).Returns([]);
        return register;
    }

    private static IRunStore Runs(FleetStory fleet)
    {
        var store = Substitute.For<IRunStore>();
        store.Read(Arg.Any<string>(), Arg.Any<DateTimeOffset?>(), Arg.Any<DateTimeOffset?>())
            .Returns(call => (IReadOnlyList<Run>)fleet.Told.Single(t => t.Truck.Id == call.Arg<string>()).Runs);
        return store;
    }

    private sealed class Collect(List<ReportProgress> seen) : IProgress<ReportProgress>
    {
        public void Report(ReportProgress value) => seen.Add(value);
    }
}
