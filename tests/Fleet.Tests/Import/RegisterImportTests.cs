using System.Text;
using Vanehour.Fleet.Import;
using Vanehour.Fleet.Register;
using Vanehour.Fleet.Sqlite;

namespace Vanehour.Fleet.Tests.Import;

public sealed class RegisterImportTests : IDisposable
{
    private const string Models =
        """
        model,rated_speed_rpm,min_speed_rpm,max_speed_rpm,free_air_cfm,max_vacuum_inhg,max_pressure_psi,max_temperature_degf,oil_rate_qth,vane_width_new_mm,vane_width_limit_mm,flow_kept_limit,relief_vacuum_inhg
        Alder 400,1200,1000,1400,400,20,20,350,0.12,60,50,0.75,18
        """;

    private const string Trucks =
        """
        truck,name,yard,pump_model,pump_serial,pump_fitted,meter_at_fitting_h,tank_gal,elevation_ft,time_zone,in_service,drive,deodoriser
        T07,"Seven, the green one",North,Alder 400,S-1,2026-01-05,4312.4,3000,600,America/Chicago,yes,gearbox,no
        """;

    private const string Service =
        """
        record_id,date,truck,meter_h,kind,value,unit,note
        r1,2026-03-09,T07,4400,vane_width,57.2,mm,measured hot
        ,2026-03-09T07:30-05:00,T07,4400.5,oil_fill,2,qt,
        ,2026-03-10,T07,4401,meter_replaced,3,,
        """;

    private readonly TemporaryFolder folder = new();
    private readonly FleetRegister register;

    public RegisterImportTests() => register = new FleetRegister(SqliteDatabase.Open(folder.Path, FleetSchema.Current));

    public void Dispose() => folder.Dispose();

    [Fact]
    public void TheThreeFilesImportInAnyOrderAndTwiceChangesNothing()
    {
        var first = Import(("service.csv", Service), ("trucks.csv", Trucks), ("models.csv", Models));
        Assert.All(first, f => Assert.True(f.Imported, string.Join('\n', f.Problems)));
        Assert.Equal([1, 1, 3], first.Select(f => f.Changed));

        var truck = Assert.Single(register.Trucks());
        Assert.Equal("Seven, the green one", truck.Name);
        Assert.Equal(new DateTimeOffset(2026, 1, 5, 6, 0, 0, TimeSpan.Zero), truck.PumpFitted);
        Assert.Equal(11356.235352, truck.TankVolume.Litres, 1e-6);
        Assert.Equal(DriveKind.Gearbox, truck.Drive);
        Assert.False(truck.Deodoriser);
        var model = Assert.Single(register.PumpModels());
        Assert.Equal(400, model.FreeAir.CubicFeetPerMinute, 1e-9);
        Assert.Null(model.ReliefPressure);
        var records = register.ServiceRecords("T07");
        Assert.Equal([ServiceKind.VaneWidth, ServiceKind.OilFill, ServiceKind.MeterReplaced], records.Select(r => r.Kind));
        Assert.Equal(new DateTimeOffset(2026, 3, 9, 5, 0, 0, TimeSpan.Zero), records[0].At); // Daylight saving began the day before.
        Assert.Equal(new DateTimeOffset(2026, 3, 9, 12, 30, 0, TimeSpan.Zero), records[1].At);
        Assert.Equal(0.0572, records[0].ValueSi!.Value, 1e-12);
        Assert.Equal(3 * 3600, records[2].ValueSi);

        var second = Import(("models.csv", Models), ("trucks.csv", Trucks), ("service.csv", Service));
        Assert.All(second, f => Assert.Equal(0, f.Changed));
        Assert.Equal(3, register.ServiceRecords().Count);
    }

    [Fact]
    public void ARowReplacesTheRowOfTheSameKey()
    {
        Import(("models.csv", Models), ("trucks.csv", Trucks), ("service.csv", Service));
        Import(("service.csv", Service.Replace("57.2", "56.9", StringComparison.Ordinal)));
        Assert.Equal(3, register.ServiceRecords().Count);
        Assert.Equal(56.9, register.ServiceRecords().Single(r => r.RecordId == "r1").Value);
    }

    [Fact]
    public void AChangedSerialIsRefusedWithASentence()
    {
        Import(("models.csv", Models), ("trucks.csv", Trucks));
        var problem = Assert.Single(Assert.Single(Import(("trucks.csv", Trucks.Replace("S-1", "S-2", StringComparison.Ordinal)))).Problems);
        Assert.Equal("pump_serial", problem.Column);
        Assert.Contains("service record", problem.Reason, StringComparison.Ordinal);
        Assert.Equal("S-1", Assert.Single(register.Trucks()).PumpSerial);
    }

    [Fact]
    public void NothingOfAFileWithABadRowIsImportedUnlessBadRowsAreSkipped()
    {
        var text = Models + "\nBirch 500,1200,1300,1400,400,20,20,350,0.12,60,50,0.75,18\n";
        var refused = Assert.Single(Import(("models.csv", text)));
        Assert.False(refused.Imported);
        Assert.Equal("models.csv, line 3, column rated_speed_rpm: The speeds must satisfy min_speed <= rated_speed <= max_speed, above zero.", Assert.Single(refused.Problems).ToString());
        Assert.Empty(register.PumpModels());

        var skipped = Assert.Single(RegisterImport.Import(register, [File("models.csv", text)], skipBadRows: true));
        Assert.True(skipped.Imported);
        Assert.Single(skipped.Problems);
        Assert.Equal("Alder 400", Assert.Single(register.PumpModels()).Model);
    }

    [Theory]
    [InlineData("1200,1000", "fast,1000", "rated_speed_rpm", "not a number")]
    [InlineData("1200,1000", ",1000", "rated_speed_rpm", "needed")]
    [InlineData(",400,20,", ",NaN,20,", "free_air_cfm", "not a number")]
    [InlineData(",400,20,", ",-400,20,", "free_air_cfm", "not possible")]
    [InlineData("0.75,18", "1.2,18", "flow_kept_limit", "fraction")]
    [InlineData("60,50", "50,60", "vane_width_limit_mm", "less than the width when new")]
    [InlineData("0.75,18", "0.75,40", "relief_vacuum_inhg", "barometer")]
    [InlineData("0.75,18", "0.75,18,7", null, "14 fields, the header 13")]
    [InlineData("max_vacuum_inhg", "max_vacuum_bar", "max_vacuum_inhg", "missing")]
    [InlineData("oil_rate_qth", "oil_rate", "oil_rate", "not one of this file's")]
    [InlineData("vane_width_new_mm,vane", "model,vane", "model", "twice")]
    public void ABadPumpModelIsNamedByLineAndColumn(string good, string bad, string? column, string reason) =>
        ExpectProblem(("models.csv", Models.Replace(good, bad, StringComparison.Ordinal)), column, reason);

    [Theory]
    [InlineData("America/Chicago", "Chicago", "time_zone", "IANA")]
    [InlineData("2026-01-05", "5.1.2026", "pump_fitted", "not a date")]
    [InlineData("T07,", "T 07,", "truck", "letters")]
    [InlineData("Alder 400", "Alder", "pump_model", "not registered")]
    [InlineData("gearbox", "belt", "drive", "none of direct")]
    [InlineData(",yes,", ",perhaps,", "in_service", "neither yes nor no")]
    [InlineData("4312.4", "-1", "meter_at_fitting_h", "below zero")]
    [InlineData(",600,", ",60000,", "elevation_ft", "elevation")]
    public void ABadTruckIsNamedByLineAndColumn(string good, string bad, string? column, string reason)
    {
        Import(("models.csv", Models));
        ExpectProblem(("trucks.csv", Trucks.Replace(good, bad, StringComparison.Ordinal)), column, reason);
    }

    [Theory]
    [InlineData("r1,2026-03-09,T07", "r1,2026-03-09,T08", "truck", "not registered")]
    [InlineData("vane_width", "vanes", "kind", "no kind of service record")]
    [InlineData("57.2,mm", "57.2,psi", "unit", "one of mm, in")]
    [InlineData("57.2,mm", ",mm", "value", "needs a value")]
    [InlineData("57.2,mm", "-1,mm", "value", "below zero")]
    [InlineData("vane_width,57.2,mm", "fitted,,", "pump_serial", "serial")]
    [InlineData("vane_width,57.2,mm", "flush,57.2,", "value", "takes no value")]
    [InlineData("4400,vane", "x,vane", "meter_h", "not a number")]
    public void ABadServiceRecordIsNamedByLineAndColumn(string good, string bad, string? column, string reason)
    {
        Import(("models.csv", Models), ("trucks.csv", Trucks));
        ExpectProblem(("service.csv", Service.Replace(good, bad, StringComparison.Ordinal)), column, reason);
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData("a,b\n1,2\n", "no file that can be imported")]
    [InlineData("\"never closed", "never closed")]
    public void AFileThatIsNoneOfOursIsRefused(string text, string reason) => ExpectProblem(("x.csv", text), null, reason);

    [Fact]
    public void BytesThatAreNotUtf8AreRefused()
    {
        var file = new RegisterFile("x.csv", new byte[] { 0xFF, 0xFE, 0x41 });
        Assert.Contains("UTF-8", Assert.Single(Assert.Single(RegisterImport.Import(register, [file], false)).Problems).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void AByteOrderMarkAndWindowsLineEndsAreFine() =>
        Assert.True(Assert.Single(Import(("models.csv", "\uFEFF" + Models.ReplaceLineEndings("\r\n")))).Imported);

    [Fact]
    public void BothUnitsOfOneQuantityAreOneTooMany()
    {
        var text = Models
            .Replace("free_air_cfm", "free_air_cfm,free_air_m3h", StringComparison.Ordinal)
            .Replace(",400,20,", ",400,680,20,", StringComparison.Ordinal);
        ExpectProblem(("models.csv", text), "free_air_m3h", "give one");
    }

    private static RegisterFile File(string name, string text) => new(name, Encoding.UTF8.GetBytes(text));

    private IReadOnlyList<ImportedFile> Import(params (string Name, string Text)[] files) =>
        RegisterImport.Import(register, [.. files.Select(f => File(f.Name, f.Text))], skipBadRows: false);

    private void ExpectProblem((string Name, string Text) file, string? column, string reason)
    {
        var result = Assert.Single(Import(file));
        Assert.False(result.Imported);
        Assert.Contains(result.Problems, p => p.Column == column && p.Reason.Contains(reason, StringComparison.Ordinal));
    }
}
