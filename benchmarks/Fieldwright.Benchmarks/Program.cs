using System.Reflection;

// A benchmark is a static class whose name ends in "Benchmark", with
//     public static string Name { get; }          what one types to run it
//     public static int Run(string[] arguments)   exit code
// One file each, in the folder of its room; nothing is registered here.
var benchmarks = Assembly.GetExecutingAssembly().GetTypes()
    .Where(t => t.IsAbstract && t.IsSealed && t.Name.EndsWith("Benchmark", StringComparison.Ordinal))
    .Select(t => (Name: t.GetProperty("Name", BindingFlags.Public | BindingFlags.Static)?.GetValue(null) as string,
                  Run: t.GetMethod("Run", BindingFlags.Public | BindingFlags.Static, [typeof(string[])])))
    .Where(b => b.Name is not null && b.Run is not null)
    .ToDictionary(b => b.Name!, b => b.Run!.CreateDelegate<Func<string[], int>>(), StringComparer.Ordinal);

if (args.Length > 0 && benchmarks.TryGetValue(args[0], out var run))
    return run(args[1..]);

Console.Error.WriteLine("usage: dotnet run -c Release --project benchmarks/Fieldwright.Benchmarks -- NAME [options]");
Console.Error.WriteLine("benchmarks: " + string.Join(", ", benchmarks.Keys.Order(StringComparer.Ordinal)));
return 2;
