using System.Text;
using Vanehour.Fleet.Import;
using Vanehour.Fleet.Lives;
using Vanehour.Fleet.Servicing;
using static Vanehour.Fleet.Tests.Servicing.BookFolder;

namespace Vanehour.Fleet.Tests.Servicing;

public sealed class ContradictionTests : IDisposable
{
    private const string Header = "record_id,date,truck,meter_h,kind,value,unit,pump_serial,pump_model,note\n";

    private readonly BookFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData(20, 1098.9, "The meter of T1 would read 1098.9 h on 2026-01-25 08:00 after 1100 h on 2026-01-15 08:00 (record a); correct")]
    [InlineData(5, 1101.1, "The meter of T1 would read 1100 h on 2026-01-15 08:00 (record a) after 1101.1 h")]
    [InlineData(11, 1126, "T1 would have run 26 h between 2026-01-15 08:00 (record a) and 2026-01-16 08:00")]
    [InlineData(1, 998, "The meter of T1 would read 998 h on 2026-01-06 08:00")]
    public void AMeterThatCannotBe_IsRefused(double day, double meterH, string sentence)
    {
        folder.Given(Record(ServiceKind.Flush, 10, 1100) with { RecordId = "a" });
        Refused(Record(ServiceKind.Hose, day, meterH) with { RecordId = "b" }, sentence.Replace("2026-01-25 08:00", "2026-01-25 08:00 (record b)", StringComparison.Ordinal).Replace("2026-01-06 08:00", "2026-01-06 08:00 (record b)", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(20, 1099.1)]
    [InlineData(5, 1100.9)]
    [InlineData(11, 1124.9)]
    public void AnHour_IsTheTolerance(double day, double meterH)
    {
        folder.Given(Record(ServiceKind.Flush, 10, 1100));
        folder.Given(Record(ServiceKind.Hose, day, meterH));
    }

    [Fact]
    public void AReplacedMeter_IsTakenIntoAccount_AndCannotBeTakenAway()
    {
        folder.Given(Record(ServiceKind.Flush, 10, 1100));
        var replaced = folder.Given(Record(ServiceKind.MeterReplaced, 12, 1110) with { Value = 3, Unit = "h" });
        var rebuild = folder.Given(Record(ServiceKind.Rebuild, 20, 50));
        var life = LifeHistory.Build(folder.Register.Trucks()[0], folder.Register.ServiceRecords("T1"))[0];
        Assert.Equal(157, new MeterLine(folder.Register.Trucks()[0], folder.Register.ServiceRecords("T1")).HoursOf(life)!.Value, 1e-9);

        var outcome = folder.Book.Delete(replaced.RecordId!, null);
        Assert.Equal(ServiceOutcomeKind.Refused, outcome.Kind);
        Assert.StartsWith($"Without record {replaced.RecordId}: The meter of T1 would read 50 h", outcome.Refusal, StringComparison.Ordinal);
        Assert.Equal(ServiceOutcomeKind.Refused, folder.Book.Edit(rebuild.RecordId!, r => r with { MeterH = 1200 }, null).Kind);
    }

    [Fact]
    public void AMeterOfFourDigits_BeginsAgain()
    {
        folder.Register.Upsert([], [folder.Register.Trucks()[0] with { MeterAtFittingH = 9300 }], []);
        folder.Given(Record(ServiceKind.Flush, 30, 9990));
        folder.Given(Record(ServiceKind.Hose, 31, 5));
        folder.Given(Record(ServiceKind.Rebuild, 33, 30));
        var truck = folder.Register.Trucks()[0];
        var records = folder.Register.ServiceRecords("T1");
        Assert.Equal(730, new MeterLine(truck, records).HoursOf(LifeHistory.Build(truck, records)[0])!.Value, 1e-9);
        Refused(Record(ServiceKind.Gasket, 34, 20), "The meter of T1 would read 20 h on 2026-02-08 08:00");
    }

    [Fact]
    public void ADateWithoutATime_MayBeAnyTimeOfThatDay()
    {
        folder.Given(Record(ServiceKind.Flush, 10, 1100));
        folder.Given(Record(ServiceKind.Hose, 10, 1104) with { At = Fitted.AddDays(10) });
    }

    [Fact]
    public void AFailureOrRemovalWithoutAPump_IsRefused()
    {
        folder.Given(Record(ServiceKind.Removed, 10, 1100));
        Refused(Record(ServiceKind.Failure, 11, 1100), "A failure on 2026-01-16 08:00 (record ");
        Refused(Record(ServiceKind.Removed, 11, 1100), "A removal on 2026-01-16 08:00 (record ");
        var fitted = folder.Given(Record(ServiceKind.Fitted, 12, 1100) with { PumpSerial = "S-9", PumpModel = "Alder 400" });
        folder.Given(Record(ServiceKind.Failure, 20, 1150));
        Assert.Equal(ServiceOutcomeKind.Refused, folder.Book.Delete(fitted.RecordId!, null).Kind);
    }

    [Fact]
    public void APumpOnTwoTrucks_IsRefused_UntilItIsTakenOff()
    {
        var fitted = Record(ServiceKind.Fitted, 20, 1100) with { PumpSerial = "S-T2", PumpModel = "Alder 400" };
        Refused(fitted, "Pump S-T2 would be on T1 and on T2 at the same time from 2026-01-25 08:00 on;");
        var removed = folder.Given(Record(ServiceKind.Removed, 15, 1100) with { Truck = "T2" });
        folder.Given(fitted);
        Assert.StartsWith("Without record", folder.Book.Delete(removed.RecordId!, null).Refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void ASecondPumpPutOn_SaysThatTheFirstCameOff() =>
        folder.Given(Record(ServiceKind.Fitted, 20, 1100) with { PumpSerial = "S-9", PumpModel = "Alder 400" });

    [Fact]
    public void TheSameRebuildTwice_IsRefused_ButARepairAfterAFailureIsNot()
    {
        folder.Given(Record(ServiceKind.Rebuild, 20, 1100));
        Refused(Record(ServiceKind.Rebuild, 21, 1100.4), "T1 would have a rebuild on 2026-01-25 08:00 (record ");
        folder.Given(Record(ServiceKind.Failure, 30, 1150));
        folder.Given(Record(ServiceKind.Rebuild, 31, 1150));
    }

    [Fact]
    public void DatesThatCannotBe_AreRefused()
    {
        var now = folder.Time.GetUtcNow();
        Refused(Record(ServiceKind.Flush, 0, 1500) with { At = now.AddMinutes(11) }, "2026-07-24 00:11 lies in the future;");
        folder.Given(Record(ServiceKind.Flush, 0, 1500) with { At = now.AddMinutes(9) });
        Refused(Record(ServiceKind.Rebuild, -3, 900), "The pump of T1 was fitted on 2026-01-05 by its registration, so a rebuild on 2026-01-02 08:00");
        folder.Given(Record(ServiceKind.Flush, -3, 900));
    }

    [Fact]
    public void WhatWasContradictoryBefore_CanBeEdited()
    {
        folder.Register.Upsert([], [], [Record(ServiceKind.Flush, 10, 1100) with { RecordId = "a" }, Record(ServiceKind.Hose, 20, 1050) with { RecordId = "b" }]);
        Assert.Equal(ServiceOutcomeKind.Done, folder.Book.Edit("b", r => r with { Note = "new hose" }, null).Kind);
        folder.Given(Record(ServiceKind.Gasket, 30, 1120));
        Assert.Equal(ServiceOutcomeKind.Done, folder.Book.Edit("b", r => r with { MeterH = 1105 }, null).Kind);
        Assert.Equal(ServiceOutcomeKind.Refused, folder.Book.Edit("b", r => r with { MeterH = 1050 }, null).Kind);
    }

    [Fact]
    public void AFile_NamesTheRowThatIsWrong_NotThoseAroundIt()
    {
        var text = Header
            + "a,2026-02-01T08:00:00Z,T1,1100,rebuild,,,,,\n"
            + "b,2026-03-01T08:00:00Z,T1,5100,rebuild,,,,,\n"
            + "c,2026-04-01T08:00:00Z,T1,1300,rebuild,,,,,\n"
            + "d,2026-05-01T08:00:00Z,T1,1400,rebuild,,,,,\n";
        var refused = Import(text);
        Assert.False(refused.Imported);
        var problem = Assert.Single(refused.Problems);
        Assert.Equal(("service.csv", 3, "meter_h"), (problem.File, problem.Line, problem.Column));
        Assert.Empty(folder.Book.History());

        var skipped = Import(text, skipBadRows: true);
        Assert.Equal((true, 3), (skipped.Imported, skipped.Changed));
        Assert.Equal([("Dee", "service.csv"), ("Dee", "service.csv"), ("Dee", "service.csv")], folder.Book.History().Select(c => (c.By!, c.Why!)));
        Assert.Equal(0, Import(text, skipBadRows: true).Changed);
        Assert.Equal(3, folder.Book.History().Count);
    }

    [Fact]
    public void AFile_MayHoldPastLivesAndWorkWrittenUpLate()
    {
        var file = Import(Header
            + "p,2025-02-01T08:00:00Z,T1,500,failure,,,,,\n"
            + "a,2026-02-01T08:00:00Z,T1,1100,rebuild,,,,,\n"
            + "b,2026-02-04T08:00:00Z,T1,1080,inlet_filter,,,,,\n");
        Assert.True(file.Imported, string.Join('\n', file.Problems));
        Assert.False(Import(Header + "c,2026-02-12T08:00:00Z,T1,1080,inlet_filter,,,,,\n").Imported);
        Assert.Contains("future", Assert.Single(Import(Header + "d,2027-02-12T08:00:00Z,T1,1200,flush,,,,,\n").Problems).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void AFile_BringsBackWhatWasDeleted_AndSaysSo()
    {
        var text = Header + "a,2026-02-01T08:00:00Z,T1,1100,flush,,,,,\n,2026-02-02T08:00:00Z,T1,1101,hose,,,,,\n";
        Assert.Equal(0, Import(text).BroughtBack);
        folder.Book.Delete("a", "Ann", "never done");
        var again = Import(text);
        Assert.Equal((1, 1), (again.Changed, again.BroughtBack));
        Assert.Equal([ServiceChangeKind.Added, ServiceChangeKind.Added, ServiceChangeKind.Deleted, ServiceChangeKind.Added], folder.Book.History().Select(c => c.Action));
        Assert.Equal(0, Import(text).Changed);
    }

    private void Refused(ServiceRecord record, string sentence)
    {
        var before = folder.Book.History().Count;
        var outcome = folder.Book.Add(record, null);
        Assert.Equal(ServiceOutcomeKind.Refused, outcome.Kind);
        Assert.StartsWith(sentence, outcome.Refusal, StringComparison.Ordinal);
        Assert.Equal(before, folder.Book.History().Count);
    }

    private ImportedFile Import(string text, bool skipBadRows = false) =>
        Assert.Single(RegisterImport.Import(folder.Register, [new RegisterFile("service.csv", Encoding.UTF8.GetBytes(text))], skipBadRows, folder.Time, "Dee"));
}
