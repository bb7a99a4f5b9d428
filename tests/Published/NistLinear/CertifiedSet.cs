using System.Reflection;
using System.Text.Json;
using Vanehour.Models.Regression;

namespace Vanehour.Published.NistLinear;

/// <summary>One of NIST's linear sets: the data as a problem, and what is certified. See SOURCE.md.</summary>
internal sealed record CertifiedSet(LinearProblem Problem, double[] Estimates, double[] StandardDeviations, double ResidualSd, double RSquared)
{
    public static CertifiedSet Read(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream($"NistLinear/{name}")
            ?? throw new InvalidOperationException($"{name} is not embedded.");
        using var document = JsonDocument.Parse(stream);
        var root = document.RootElement;
        var certified = root.GetProperty("certified");
        var coefficients = certified.GetProperty("coefficients").EnumerateArray().ToArray();
        var intercept = coefficients[0].GetProperty("name").GetString() == "B0";
        var columns = coefficients.Length - (intercept ? 1 : 0);
        var rows = root.GetProperty("x").EnumerateArray().Select(x => Row(x, columns)).ToArray();
        return new CertifiedSet(
            new LinearProblem
            {
                Columns = [.. Enumerable.Range(1, columns).Select(i => $"B{i}")],
                Rows = rows,
                Responses = [.. root.GetProperty("y").EnumerateArray().Select(y => y.GetDouble())],
                Intercept = intercept,
            },
            [.. coefficients.Select(c => c.GetProperty("estimate").GetDouble())],
            [.. coefficients.Select(c => c.GetProperty("sd").GetDouble())],
            certified.GetProperty("residual_sd").GetDouble(),
            certified.GetProperty("r_squared").GetDouble());
    }

    // A single x stands for its powers; several are the columns themselves.
    private static double[] Row(JsonElement x, int columns) => x.ValueKind == JsonValueKind.Array
        ? [.. x.EnumerateArray().Select(v => v.GetDouble())]
        : [.. Enumerable.Range(1, columns).Select(power => Math.Pow(x.GetDouble(), power))];
}
