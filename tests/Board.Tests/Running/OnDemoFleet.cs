namespace Vanehour.Board.Tests.Running;

/// <summary>Every test that needs the demonstration's fleet; one after the other, since the machine has few processors.</summary>
[CollectionDefinition(Name)]
public sealed class OnDemoFleet : ICollectionFixture<DemoFleet>
{
    public const string Name = "demo";
}
