namespace Fieldwright.App;

/// <summary>The page that <c>fieldwright help</c> prints.</summary>
internal static class HelpPage
{
    /// <summary>The page, 80 columns.</summary>
    public const string Text = """
        Fieldwright rehearses an electromagnetic demonstration before it is built: from one
        file to verdicts with error bars, by more than one independent route.

          fieldwright rehearse FILE            every claim answered and judged, then cautions
          fieldwright rehearse FOLDER          every apparatus of a folder, in a table
          fieldwright ask FILE "MEASURE"       one measure, by every route that can
          fieldwright measures FILE            what can be asked of this apparatus
          fieldwright picture FILE -o OUT      its field, as .svg, .png or .pdf
          fieldwright sheet FILE -o OUT        what to build, wind, set and mind, as .pdf or .html
          fieldwright scale FILE --by 4        the same at another size, and what follows
          fieldwright doubt FILE               how often each claim holds, tolerances counted
          fieldwright tune FILE                turn dials until every claim holds
          fieldwright reconcile FILE LOG.csv   readings beside predictions
          fieldwright programme FILE           an evening, planned to the minute
          fieldwright gallery FOLDER -o PAGE   a page of every apparatus, with pictures
          fieldwright analogue FILE            its circuit in water, wires, flux or heat
          fieldwright wind FILE WINDING        what it takes, or which wire and turns to choose
          fieldwright liquids FILE             liquid metals side by side in the channel of a pump
          fieldwright page [FOLDER]            the bench in the browser, live under the hand
          fieldwright schema [OF]              JSON Schema of apparatus files, or of --json output
          fieldwright help [COMMAND]           this page, or all options of a command

        Options
          --set "INPUT=VALUE"   turn an input for this call; may be repeated
          --target 0.5%         error bars to aim for, as a share of each answer; 1% if not said
          --json                print for machines (rehearse, ask, measures)
          --state NAME          the state to ask about or to draw (ask, picture)
          --phase DEGREES       the instant to draw, after the source peaks (picture)
          --light               draw dark on light, for print (picture)

        Examples
          fieldwright rehearse examples/floating-disc.yaml
          fieldwright rehearse examples/floating-disc.yaml --set "current in inner=18 A"
          fieldwright ask examples/floating-disc.yaml "lift on disc at height 5 mm"
          fieldwright picture examples/floating-disc.yaml -o disc.svg --phase 90

        Exit codes
          0  all claims hold, or what was asked was given
          1  some claims do not hold or are too close to call, or no route could answer
          2  the file or the call is wrong; nothing was written

        """;
}
