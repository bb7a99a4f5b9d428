namespace Vanehour.Models.Tests.Runs;

/// <summary>A seeded source of normal deviates (Box-Muller).</summary>
internal sealed class Noise(int seed)
{
    private readonly Random random = new(seed);

    public double Uniform(double low, double high) => low + ((high - low) * random.NextDouble());

    public double Normal(double sd) =>
        sd * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    public int Below(int end) => random.Next(end);
}
