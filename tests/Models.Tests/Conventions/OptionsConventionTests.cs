using System.Collections.Immutable;
using System.Reflection;
using Vanehour.Models.Analysis;
using Vanehour.Models.Runs;

namespace Vanehour.Models.Tests.Conventions;

/// <summary>Every options class of the models says what is wrong with it, number by number.</summary>
public sealed class OptionsConventionTests
{
    public static TheoryData<Type> OptionTypes() => new(typeof(AnalysisOptions).Assembly.GetExportedTypes()
        .Where(t => t.IsClass && t.GetConstructor([]) is not null && t.Name.EndsWith("Options", StringComparison.Ordinal))
        .Append(typeof(RunSettings)));

    [Theory]
    [MemberData(nameof(OptionTypes))]
    public void Defaults_AreSound(Type type) => Assert.Empty(Problems(Activator.CreateInstance(type)!));

    [Theory]
    [MemberData(nameof(OptionTypes))]
    public void EveryNumber_IsChecked(Type type)
    {
        foreach (var property in type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite))
        {
            object? nonsense = property.PropertyType == typeof(double) ? double.NaN : property.PropertyType == typeof(int) ? -1 : null;
            if (nonsense is not null)
            {
                var options = Activator.CreateInstance(type)!;
                property.SetValue(options, nonsense);
                Assert.True(Problems(options).Any(), $"{type.Name}.{property.Name} = {nonsense} passes unseen.");
            }
        }
    }

    [Fact]
    public void NestedOptions_AreCheckedByTheWhole()
    {
        var options = new AnalysisOptions();
        Assert.NotEmpty((options with { Wear = options.Wear with { Draws = 1 } }).Problems());
        Assert.NotEmpty((options with { Findings = options.Findings with { VanesLeadDays = 0 } }).Problems());
        Assert.NotEmpty((options with { Expectation = options.Expectation with { Shift = options.Expectation.Shift with { Lambda = 0 } } }).Problems());
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(-1)]
    [InlineData(0)]
    [InlineData(90)]
    public void ReferenceVacuum_NoPumpReaches_IsRefused(double kPa)
    {
        var settings = new RunSettings { ReferenceVacuumKPa = new Dictionary<string, double> { ["RV-A"] = kPa }.ToImmutableDictionary() };
        Assert.Contains("RV-A", Assert.Single(settings.Problems()), StringComparison.Ordinal);
    }

    private static IEnumerable<string> Problems(object options) =>
        (IEnumerable<string>)options.GetType().GetMethod("Problems")!.Invoke(options, null)!;
}
