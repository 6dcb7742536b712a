using Fieldwright.Numerics;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public class GuardTests
{
    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(0.0)]
    [InlineData(-1.0)]
    public void Positive_AnythingElse_IsRefusedByName(double radius)
    {
        var thrown = Assert.Throws<ArgumentOutOfRangeException>(() => Guard.Positive(radius));
        Assert.Equal("radius", thrown.ParamName);
        Assert.Contains("positive and finite", thrown.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void InRange_Ends_AreAllowedAndNotANumberIsNot()
    {
        Assert.Equal(2, Guard.InRange(2.0, 2, 3));
        Assert.Equal(3, Guard.InRange(3.0, 2, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => Guard.InRange(double.NaN, 2, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => Guard.InRange(4, 1, 3));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void Finite_LongList_NamesTheEntryWhereverItIs(double bad)
    {
        for (var place = 0; place < 23; place++)
        {
            var values = Enumerable.Repeat(double.MaxValue, 23).ToArray();
            Guard.Finite(values);
            values[place] = bad;
            Assert.Equal($"values[{place}]", Assert.Throws<ArgumentOutOfRangeException>(() => Guard.Finite(values)).ParamName);
        }
    }

    [Fact]
    public void Finite_List_NamesTheEntry() =>
        Assert.Contains("[1]", Assert.Throws<ArgumentOutOfRangeException>(() => Guard.Finite(new[] { 1, double.NaN }, "values")).ParamName, StringComparison.Ordinal);
}
