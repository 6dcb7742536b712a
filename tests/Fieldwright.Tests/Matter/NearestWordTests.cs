using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Matter;

public class NearestWordTests
{
    [Theory]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("ab", "ba", 1)]
    [InlineData("", "abc", 3)]
    [InlineData("ca", "abc", 3)]
    public void Distance_KnownPairs_AreRight(string a, string b, int expected)
    {
        Assert.Equal(expected, NearestWord.Distance(a, b));
        Assert.Equal(expected, NearestWord.Distance(b, a));
    }

    [Theory]
    [InlineData("aluminum 1050", "aluminium 1050")]
    [InlineData("COPPER", "copper")]
    [InlineData("coppre", "copper")]
    [InlineData("granite", null)]
    [InlineData("", null)]
    public void To_SlipOfTheKeys_FindsTheWord(string word, string? expected) =>
        Assert.Equal(expected, NearestWord.To(word, ["brass", "copper", "aluminium 1050", "aluminium 6082"]));
}
