using System.Text.RegularExpressions;
using Vanehour.Models.Findings;
using Vanehour.Models.Rounds;

namespace Vanehour.Models.Tests.Rounds;

public sealed partial class RoundTableTests
{
    [Fact]
    public void EveryRow_IsWhole()
    {
        var checks = RoundTable.Default.Checks;
        Assert.Equal(checks.Length, checks.Select(c => c.Key).Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.Equal(Enum.GetValues<RoundKind>(), checks.Select(c => c.Round).Distinct());
        Assert.All(checks, c =>
        {
            Assert.Matches(Key(), c.Key);
            Assert.DoesNotContain(c.Key, Enum.GetNames<RoundKind>(), StringComparer.OrdinalIgnoreCase);
            Assert.NotEmpty(c.Text);
            Assert.EndsWith(".", c.Instruction, StringComparison.Ordinal);
            Assert.StartsWith("common practice", c.Source, StringComparison.Ordinal);
            Assert.NotEmpty(c.Cautions);
            Assert.All(c.CautionTexts(Knowledge.Default), t => Assert.NotEmpty(t));
            Assert.True(c.Days > 0 || c.Hours > 0);
            Assert.All(c.AlsoIn, r => Assert.True(r > c.Round));

            // What is the work of hours is said to be of our own.
            Assert.Equal(c.Hours is not null, c.Source.Contains("of our own", StringComparison.Ordinal));
        });
    }

    [Theory]
    [InlineData("daily; by Ann; trap was full", "Ann", "daily")]
    [InlineData("Weekly round", null, "weekly")]
    [InlineData("daily, weekly + Inlet-Filter: rubber found; BY  Bo ", "Bo", "daily", "weekly", "inlet_filter")]
    [InlineData("all well", null, "all")]
    [InlineData(null, null)]
    public void Notes_AreReadAsPeopleWriteThem(string? note, string? by, params string[] names)
    {
        Assert.Equal(names, RoundNote.Names(note));
        Assert.Equal(by, RoundNote.By(note));
    }

    [Fact]
    public void ANote_WrittenAndRead_IsTheSame()
    {
        var record = new RoundMark("T1", "inlet_filter", new DateTimeOffset(2026, 3, 2, 7, 0, 0, TimeSpan.Zero), 1234.5, "Ann; Bo", "mesh torn; new one").ToRecord();
        Assert.Equal("inlet_filter; by Ann, Bo; mesh torn, new one", record.Note);
        Assert.Equal(["inlet_filter"], RoundNote.Names(record.Note));
        Assert.Equal("Ann, Bo", RoundNote.By(record.Note));
        Assert.Equal("round-T1-inlet_filter-20260302T070000Z", record.RecordId);
    }

    [GeneratedRegex("^[a-z]+(_[a-z]+)*$")]
    private static partial Regex Key();
}
