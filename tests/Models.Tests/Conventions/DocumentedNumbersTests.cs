using System.Reflection;
using System.Runtime.CompilerServices;
using System.Xml.Linq;
using Vanehour.Fleet;
using Vanehour.Models.Analysis;
using Vanehour.Store.Telemetry;

namespace Vanehour.Models.Tests.Conventions;

/// <summary>Every public number ships with words that say what it is: in its own documentation, or for a record's parameter in the record's.</summary>
public sealed class DocumentedNumbersTests
{
    private static readonly HashSet<Type> Numbers = [typeof(double), typeof(int), typeof(long), typeof(ulong), typeof(short), typeof(float), typeof(decimal)];

    public static TheoryData<Assembly> Assemblies() => [typeof(Truck).Assembly, typeof(ITelemetryStore).Assembly, typeof(AnalysisOptions).Assembly];

    [Theory]
    [MemberData(nameof(Assemblies))]
    public void EveryPublicNumber_IsDocumented(Assembly assembly)
    {
        var documented = XDocument.Load(Path.ChangeExtension(assembly.Location, ".xml")).Descendants("member").ToDictionary(m => m.Attribute("name")!.Value);
        var numbers = 0;
        var silent = new List<string>();
        foreach (var type in assembly.GetExportedTypes().Where(t => !t.IsEnum && !t.IsDefined(typeof(CompilerGeneratedAttribute))))
        {
            var parameters = documented.GetValueOrDefault($"T:{Name(type)}")?.Elements("param").Select(p => p.Attribute("name")!.Value).ToHashSet() ?? [];
            foreach (var member in type.GetMembers(BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly))
            {
                var (kind, of) = member switch
                {
                    PropertyInfo p => ('P', p.PropertyType),
                    FieldInfo f => ('F', f.FieldType),
                    _ => ('-', typeof(void)),
                };
                if (!Numbers.Contains(Nullable.GetUnderlyingType(of) ?? of))
                {
                    continue;
                }

                numbers++;
                if (!documented.Keys.Any(k => k == $"{kind}:{Name(type)}.{member.Name}" || k.StartsWith($"{kind}:{Name(type)}.{member.Name}(", StringComparison.Ordinal))
                    && !parameters.Contains(member.Name))
                {
                    silent.Add($"{Name(type)}.{member.Name}");
                }
            }
        }

        Assert.True(numbers > 0);
        Assert.Empty(silent);
    }

    private static string Name(Type type) => type.FullName!.Replace('+', '.');
}
