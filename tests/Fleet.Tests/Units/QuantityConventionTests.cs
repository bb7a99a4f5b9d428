using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json;
using System.Text.Json.Serialization;
using Vanehour.Fleet.Units;

namespace Vanehour.Fleet.Tests.Units;

public class QuantityConventionTests
{
    public static TheoryData<Type> Quantities() =>
        new(typeof(Pressure).Assembly.GetExportedTypes().Where(t => t.IsValueType && t.GetInterfaces().Any(IsQuantity)));

    [Fact]
    public void EveryQuantityIsFound() => Assert.Equal(7, Quantities().Count);

    [Theory]
    [MemberData(nameof(Quantities))]
    public void QuantityIsReadonlyAndHasAConverter(Type type)
    {
        Assert.NotNull(type.GetCustomAttribute<IsReadOnlyAttribute>());
        Assert.NotNull(type.GetCustomAttribute<JsonConverterAttribute>());
    }

    [Theory]
    [MemberData(nameof(Quantities))]
    public void QuantityRoundTripsThroughJsonAndRefusesNaN(Type type)
    {
        var fromSi = type.GetMethod("FromSi")!;
        var original = fromSi.Invoke(null, [123.456]);
        var json = JsonSerializer.Serialize(original, type);
        Assert.Equal("123.456", json);
        Assert.Equal(original, JsonSerializer.Deserialize(json, type));

        foreach (var bad in new[] { double.NaN, double.PositiveInfinity, double.NegativeInfinity })
        {
            var error = Assert.Throws<TargetInvocationException>(() => fromSi.Invoke(null, [bad]));
            Assert.IsType<ArgumentOutOfRangeException>(error.InnerException);
        }
    }

    [Theory]
    [MemberData(nameof(Quantities))]
    public void EveryFactoryAndPropertyOfAUnitAreInverse(Type type)
    {
        var factories = type.GetMethods(BindingFlags.Public | BindingFlags.Static)
            .Where(m => m.Name.StartsWith("From", StringComparison.Ordinal) && m.Name != "FromSi")
            .ToList();
        Assert.NotEmpty(factories);
        foreach (var factory in factories)
        {
            var quantity = factory.Invoke(null, [42.5]);
            var back = (double)type.GetProperty(factory.Name["From".Length..])!.GetValue(quantity)!;
            Assert.Equal(42.5, back, 1e-10);
        }
    }

    [Fact]
    public void JsonThatIsNoPossibleQuantityIsAJsonError() =>
        Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<Temperature>("-1"));

    private static bool IsQuantity(Type t) => t.IsGenericType && t.GetGenericTypeDefinition() == typeof(IQuantity<>);
}
