using System.Globalization;
using System.Text;
using Vanehour.Fleet;
using Vanehour.Fleet.Units;
using Vanehour.Simulator.RegisterCsv;

namespace Vanehour.Simulator.Tests.Files;

public sealed class RegisterFilesTests : IDisposable
{
    private static readonly SimulatedFleet Fleet = Fleets.Demonstration.Value;
    private readonly string folder = Directory.CreateTempSubdirectory("register").FullName;

    public RegisterFilesTests() => RegisterFiles.Write(Fleet, folder);

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Headers_AreThoseOfTheFormat()
    {
        Assert.Equal(
            "model,rated_speed_rpm,min_speed_rpm,max_speed_rpm,free_air_cfm,max_vacuum_inhg,max_pressure_psi,max_temperature_degf,oil_rate_qth,"
                + "vane_width_new_mm,vane_width_limit_mm,flow_kept_limit,relief_vacuum_inhg,relief_pressure_psi",
            Lines("pump-models.csv")[0]);
        Assert.Equal(
            "truck,name,yard,pump_model,pump_serial,pump_fitted,meter_at_fitting_h,tank_gal,elevation_m,time_zone,in_service,drive,deodoriser",
            Lines("trucks.csv")[0]);
        Assert.Equal("record_id,date,truck,meter_h,kind,value,unit,pump_serial,pump_model,note", Lines("service.csv")[0]);
    }

    [Fact]
    public void Files_AreUtf8WithoutMarkAndEndLinesAsRfc4180()
    {
        foreach (var file in Directory.GetFiles(folder))
        {
            var bytes = File.ReadAllBytes(file);
            Assert.NotEqual(0xEF, bytes[0]);
            Assert.EndsWith("\r\n", Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void PumpModels_ReadBackToTheSameQuantities()
    {
        var rows = Lines("pump-models.csv").Skip(1).Select(l => l.Split(',')).ToList();
        Assert.Equal(Fleet.PumpModels.Select(m => m.Model), rows.Select(r => r[0]));
        foreach (var (model, row) in Fleet.PumpModels.Zip(rows))
        {
            double At(int i) => double.Parse(row[i], CultureInfo.InvariantCulture);
            Assert.Equal(model.RatedSpeed, RotationalSpeed.FromRpm(At(1)));
            Assert.Equal(model.FreeAir, VolumeFlow.FromCubicFeetPerMinute(At(4)));
            Assert.Equal(model.MaxVacuum, Pressure.FromInchesOfMercury(At(5)));
            Assert.Equal(model.MaxTemperature, Temperature.FromFahrenheit(At(7)));
            Assert.Equal(model.OilRate!.Value.Si, Unit.QuartPerHour.ToSi(At(8)));
            Assert.Equal(model.VaneWidthLimit, Length.FromMillimetres(At(10)));
            Assert.InRange(At(11), 0.7, 0.78);
            Assert.Equal(model.ReliefVacuum, Pressure.FromInchesOfMercury(At(12)));
        }
    }

    [Fact]
    public void Trucks_AreFittedOnALocalDayBeforeTheFirstSample()
    {
        foreach (var (truck, line) in Fleet.Trucks.Zip(Lines("trucks.csv").Skip(1)))
        {
            var cells = line.Split(',');
            Assert.Equal(truck.Id, cells[0]);
            Assert.True(TruckId.IsValid(cells[0]));
            var zone = TimeZoneInfo.FindSystemTimeZoneById(cells[9]);
            var local = DateTime.ParseExact(cells[5], "yyyy-MM-dd", CultureInfo.InvariantCulture);
            Assert.Equal(truck.PumpFitted, new DateTimeOffset(local, zone.GetUtcOffset(local)));
            Assert.True(truck.PumpFitted < Fleet.Start);
            Assert.Equal(truck.TankVolume, Volume.FromGallons(double.Parse(cells[7], CultureInfo.InvariantCulture)));
            Assert.Equal("yes", cells[10]);
        }
    }

    [Fact]
    public void Service_RowsCarryTheRecords()
    {
        var lines = Lines("service.csv");
        Assert.Equal(Fleet.ServiceRecords.Length, lines.Length - 1);
        foreach (var (record, line) in Fleet.ServiceRecords.Zip(lines.Skip(1)))
        {
            var cells = line.Split(',');
            Assert.Equal(record.RecordId, cells[0]);
            Assert.Equal(record.At, DateTimeOffset.Parse(cells[1], CultureInfo.InvariantCulture));
            Assert.Equal(record.MeterH, double.Parse(cells[3], CultureInfo.InvariantCulture));
        }

        Assert.Contains(lines, l => l.Contains(",vane_width,", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.EndsWith(",rebuild,,,,,\"Vanes replaced, end plates dressed\"", StringComparison.Ordinal));
        Assert.Equal(Fleet.ServiceRecords.Length, Fleet.ServiceRecords.Select(r => r.RecordId).Distinct().Count());
    }

    [Fact]
    public void Write_SameFleetSameBytes()
    {
        var other = Directory.CreateTempSubdirectory("register").FullName;
        try
        {
            RegisterFiles.Write(SimulatedFleet.Create(new SimulationOptions()), other);
            foreach (var file in Directory.GetFiles(folder))
            {
                Assert.Equal(File.ReadAllBytes(file), File.ReadAllBytes(Path.Combine(other, Path.GetFileName(file))));
            }
        }
        finally
        {
            Directory.Delete(other, recursive: true);
        }
    }

    [Fact]
    public void CsvTable_QuotesOnlyWhatNeedsIt()
    {
        var table = new CsvTable("a", "b", "c", "d");
        table.Add("plain", "with, comma", "with \"quote\"", null);
        var file = Path.Combine(folder, "t.csv");
        table.Save(file);
        Assert.Equal("a,b,c,d\r\nplain,\"with, comma\",\"with \"\"quote\"\"\",\r\n", File.ReadAllText(file));
        Assert.Throws<ArgumentException>(() => table.Add("too few"));
    }

    private string[] Lines(string name) => File.ReadAllText(Path.Combine(folder, name)).TrimEnd().Split("\r\n");
}
