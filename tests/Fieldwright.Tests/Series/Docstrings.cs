using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Fieldwright.Tests.Series;

/// <summary>Reads what an assembly says of its public members, and finds what it leaves unsaid: summary, parameters, returned values, units, validity, source.</summary>
internal static partial class Docstrings
{
    private const BindingFlags Own = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;

    /// <summary>What is missing, a line each, and how many members were looked at.</summary>
    public static (IReadOnlyList<string> Missing, int Members) Of(Assembly assembly)
    {
        var docs = XDocument.Load(Path.ChangeExtension(assembly.Location, ".xml")).Descendants("member").ToDictionary(m => m.Attribute("name")!.Value);
        var missing = new List<string>();
        int members = 0;
        foreach (var type in assembly.GetExportedTypes())
        {
            if (!docs.TryGetValue("T:" + type.FullName!.Replace('+', '.'), out var whole))
            {
                missing.Add($"{type.Name}: nothing is said");
                continue;
            }

            foreach (var member in type.GetMembers(Own).Where(IsWritten))
            {
                members++;
                string name = $"{type.Name}.{member.Name}";
                docs.TryGetValue(Id(member), out var own);
                if (own?.Element("inheritdoc") is not null)
                    continue;
                if (own is not null)
                    missing.AddRange(Unsaid(member, own, whole).Select(what => $"{name}: {what}"));
                else if (Listed(whole, member) is not { } values)
                    missing.Add($"{name}: nothing is said");
                else if (member is PropertyInfo property && NeedsUnit(property.PropertyType, values))
                    missing.Add($"{name}: no unit");
            }
        }

        return (missing, members);
    }

    private static IEnumerable<string> Unsaid(MemberInfo member, XElement own, XElement whole)
    {
        string summary = own.Element("summary")?.Value ?? "";
        if (summary.Length == 0)
            yield return "no summary";
        if (member is PropertyInfo property && NeedsUnit(property.PropertyType, summary))
            yield return "no unit";
        if (member is not MethodBase method)
            yield break;
        foreach (var parameter in method.GetParameters())
        {
            if (own.Elements("param").FirstOrDefault(e => e.Attribute("name")!.Value == parameter.Name) is not { } said)
                yield return $"nothing about {parameter.Name}";
            else if (NeedsUnit(parameter.ParameterType, said.Value))
                yield return $"no unit of {parameter.Name}";
        }

        if (method is not MethodInfo { ReturnType: var gives } || gives == typeof(void))
            yield break;
        string returns = own.Element("returns")?.Value ?? "";
        bool isOperator = method.Name.StartsWith("op_", StringComparison.Ordinal);
        if (returns.Length == 0 && !isOperator)
            yield return "nothing about what it returns";
        if (NeedsUnit(gives, summary + returns + (isOperator ? whole.Value : "")))
            yield return "no unit of what it returns";
        // What makes another thing of its own kind, or is counted, computes nothing that could be wrong.
        if (gives == method.DeclaringType && !isOperator || !IsNumber(gives))
            yield break;
        string all = own.Value + whole.Value;
        if (!Validity().IsMatch(all))
            yield return "nothing about validity or accuracy";
        if (own.Element("source") is null && whole.Element("source") is null && !Sourced().IsMatch(all))
            yield return "no source";
    }

    private static bool IsWritten(MemberInfo member) => member switch
    {
        Type => false,
        _ when member.GetCustomAttribute<CompilerGeneratedAttribute>() is not null => false,
        MethodInfo { IsSpecialName: true } m => m.Name.StartsWith("op_", StringComparison.Ordinal) && m.Name is not ("op_Equality" or "op_Inequality"),
        MethodInfo m => m.Name is not ("ToString" or "GetHashCode" or "Equals" or "Deconstruct") && !m.Name.StartsWith('<'),
        FieldInfo f => f.Name != "value__",
        ConstructorInfo c => !(c.DeclaringType!.IsValueType && c.GetParameters().Length == 0),
        _ => true,
    };

    // A property or constructor of a record is described by the parameters of its type.
    private static string? Listed(XElement whole, MemberInfo member)
    {
        string? Said(string? name) => whole.Elements("param").FirstOrDefault(e => e.Attribute("name")!.Value == name)?.Value;
        return member switch
        {
            PropertyInfo p => Said(p.Name),
            ConstructorInfo c => c.GetParameters().All(p => Said(p.Name) is not null) ? "" : null,
            _ => null,
        };
    }

    private static bool IsNumber(Type type) => type.ToString() is var s && (s.Contains("Double", StringComparison.Ordinal) || s.Contains("Complex", StringComparison.Ordinal)
        || s.Contains("Vector", StringComparison.Ordinal) || s.Contains("AxialField", StringComparison.Ordinal) || s.Contains("MagnetLoad", StringComparison.Ordinal)
        || s.Contains("BallResponse", StringComparison.Ordinal) || s.Contains("Answer", StringComparison.Ordinal));

    private static bool NeedsUnit(Type type, string said) => type.ToString() is var s
        && (s.Contains("Double", StringComparison.Ordinal) || s.Contains("Complex", StringComparison.Ordinal) || s.Contains("Vector", StringComparison.Ordinal)) && !Unit().IsMatch(said) && !Pure().IsMatch(said);

    private static string Id(MemberInfo member)
    {
        string owner = member.DeclaringType!.FullName!.Replace('+', '.');
        return member switch
        {
            PropertyInfo => $"P:{owner}.{member.Name}",
            FieldInfo => $"F:{owner}.{member.Name}",
            ConstructorInfo c => $"M:{owner}.#ctor{Arguments(c)}",
            MethodInfo m => $"M:{owner}.{m.Name}{Arguments(m)}",
            _ => member.Name,
        };
    }

    private static string Arguments(MethodBase method) =>
        method.GetParameters() is { Length: > 0 } all ? "(" + string.Join(",", all.Select(p => Name(p.ParameterType))) + ")" : "";

    private static string Name(Type type) => type switch
    {
        { IsByRef: true } => Name(type.GetElementType()!) + "@",
        { IsArray: true } => Name(type.GetElementType()!) + (type.GetArrayRank() == 1 ? "[]" : "[" + string.Join(",", Enumerable.Repeat("0:", type.GetArrayRank())) + "]"),
        { IsGenericParameter: true } => "`" + type.GenericParameterPosition,
        { IsGenericType: true } => type.GetGenericTypeDefinition().FullName!.Split('`')[0].Replace('+', '.') + "{" + string.Join(",", type.GetGenericArguments().Select(Name)) + "}",
        _ => type.FullName!.Replace('+', '.'),
    };

    [GeneratedRegex(@"(?<![A-Za-z'’])(1/m|m|m²|m³|s|kg|N|T|H|F|V|W|J|Pa|Ω|Hz|rad|H/m|N/m|S/m|A/m|A/m²|T/A|m/s|rad/s|kg/m³|Pa·s|N·m|N·m²|A·m²|A·m|Wb|W/m|N·m/m|m³/s|N·s/m|N/A²|N·m/A²|T/m|m²/s|A(?! [a-z]))(?![A-Za-z_'’=])")]
    private static partial Regex Unit();

    [GeneratedRegex(@"pure number|without unit|same unit|its unit|their unit|in the unit|two units|[Ss]hare|\bover\b|[Rr]elative|[Nn]umber|[Tt]urns|[Cc]oefficient|[Ff]actor|of any length|\b[0-9−]+ (to|and) |Between|[Pp]ermeability|axis|f·Re|[Ss]lip|Rough")]
    private static partial Regex Pure();

    [GeneratedRegex(@"error|exact|closed form|converge|valid|\bholds?\b|digit|settle|accura|±|%|good (to|for)|fair|guide|rounding", RegexOptions.IgnoreCase)]
    private static partial Regex Validity();

    [GeneratedRegex(@"derived here|by definition|name their own", RegexOptions.IgnoreCase)]
    private static partial Regex Sourced();
}
