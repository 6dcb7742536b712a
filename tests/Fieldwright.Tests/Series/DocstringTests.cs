using Xunit;

namespace Fieldwright.Tests.Series;

/// <summary>Every public member of the series room says what it is: shapes and units of what goes in and comes out, validity or accuracy, source.</summary>
public class DocstringTests
{
    [Fact]
    public void Members_AllThatArePublic_SayUnitValidityAndSource()
    {
        var (missing, members) = Docstrings.Of(typeof(Fieldwright.Series.Vector).Assembly);
        Assert.True(members > 300, $"only {members} members were found");
        Assert.True(missing.Count == 0, string.Join('\n', missing));
    }
}
