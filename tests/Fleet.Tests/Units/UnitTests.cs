using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Tests.Units;

public class UnitTests
{
    [Fact]
    public void SameUnitGivesTheValueUnchanged() => Assert.Equal(16.2, Unit.InchOfMercury.ConvertTo(Unit.InchOfMercury, 16.2));

    [Fact]
    public void OtherDimensionIsRefused() => Assert.Throws<ArgumentException>(() => Unit.Psi.ConvertTo(Unit.Celsius, 1));

    [Fact]
    public void SymbolsAreUniqueAndFindTheirUnit() => Assert.All(Unit.All, u => Assert.Same(u, Unit.Find(u.Symbol)));

    [Fact]
    public void FreezingPointIsThirtyTwoFahrenheit() => Assert.Equal(32, Temperature.FromCelsius(0).Fahrenheit, 1e-12);

    [Theory] // [US76] U.S. Standard Atmosphere 1976, table by geometric altitude, which ISO 2533 shares up to 32 km; values from memory, 5 digits.
    [InlineData(0, 1.01325e5)]
    [InlineData(1000, 8.9876e4)]
    [InlineData(2000, 7.9501e4)]
    [InlineData(5000, 5.4048e4)]
    public void StandardAtmosphere_MatchesTheTable(double elevationM, double pa) =>
        Assert.Equal(pa, StandardAtmosphere.AtElevation(Length.FromMetres(elevationM)).Si, pa * 1e-5);

    [Fact]
    public void StandardAtmosphere_RefusesTheStratosphere() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => StandardAtmosphere.AtElevation(Length.FromMetres(12000)));
}
