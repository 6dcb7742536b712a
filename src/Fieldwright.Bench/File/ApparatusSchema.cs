using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace Fieldwright.Bench.File;

/// <summary>The language of apparatus files as a JSON Schema, for editors and other programs. It follows from the same vocabulary as the reader.</summary>
/// <remarks>The schema knows keys, alternatives and the form of values. Whether a unit fits, a name is known or bodies overlap only the reader tells.</remarks>
public static class ApparatusSchema
{
    /// <summary>Version of the schema; it rises when a file that was right becomes wrong.</summary>
    public const int Version = 1;

    // A number and at least one sign of a unit behind it.
    private const string QuantityPattern = @"^[+\-−]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+\-−]?[0-9]+)?\s*(1/)?[^\s0-9.].*$";

    /// <summary>The schema, draft 2020-12, as indented JSON with a line feed at its end.</summary>
    public static string Write()
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
            new Writer(json).WriteFile();
        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    private sealed class Writer(Utf8JsonWriter json)
    {
        private readonly Dictionary<MappingKind, string> names = new(ReferenceEqualityComparer.Instance);
        private readonly Queue<(MappingKind Kind, string Context)> pending = new();

        public void WriteFile()
        {
            json.WriteStartObject();
            json.WriteString("$schema", "https://json-schema.org/draft/2020-12/schema");
            json.WriteString("$id", $"urn:fieldwright:apparatus-file:{Version.ToString(CultureInfo.InvariantCulture)}");
            json.WriteString("title", "Apparatus file");
            WriteBody(Vocabulary.File, "");
            json.WriteStartObject("$defs");
            while (pending.TryDequeue(out var next))
            {
                json.WriteStartObject(names[next.Kind]);
                WriteBody(next.Kind, next.Context);
                json.WriteEndObject();
            }

            json.WriteEndObject();
            json.WriteEndObject();
        }

        private void WriteBody(MappingKind kind, string context)
        {
            json.WriteString("description", kind.Meaning);
            json.WriteString("type", "object");
            WriteKeys(kind.Keys, null, context);
            if (kind.Alternatives.Count > 0)
            {
                json.WriteStartArray("oneOf");
                foreach (var alternative in kind.Alternatives)
                {
                    json.WriteStartObject();
                    json.WriteString("title", alternative.Name);
                    json.WriteString("description", alternative.Meaning);
                    WriteKeys(alternative.Keys, alternative, ReferenceEquals(kind, Vocabulary.File) ? alternative.Word! + " " : context);
                    json.WriteEndObject();
                }

                json.WriteEndArray();
            }

            json.WriteBoolean("unevaluatedProperties", false);
        }

        private void WriteKeys(IReadOnlyList<Key> keys, Alternative? alternative, string context)
        {
            json.WriteStartObject("properties");
            if (alternative?.Word is { } word)
            {
                json.WriteStartObject(alternative.Marker);
                json.WriteString("const", word);
                json.WriteEndObject();
            }

            foreach (var key in keys)
            {
                json.WriteStartObject(key.Name);
                json.WriteString("description", key.Meaning + (key.Default is null ? "" : $" Default: {key.Default}."));
                WriteKind(key.Kind, context);
                json.WriteEndObject();
            }

            json.WriteEndObject();
            if (keys.Any(k => k.Required))
            {
                json.WriteStartArray("required");
                foreach (var key in keys.Where(k => k.Required))
                    json.WriteStringValue(key.Name);
                json.WriteEndArray();
            }
        }

        private void WriteKind(ValueKind kind, string context)
        {
            switch (kind)
            {
                case MappingKind mapping:
                    WriteReference(mapping, context);
                    break;
                case EitherKind either:
                    json.WriteStartArray("anyOf");
                    WriteItem(either.Word, context);
                    WriteItem(either.InPlace, context);
                    json.WriteEndArray();
                    break;
                case NamedKind named:
                    WriteTypes("object", "null");
                    json.WriteNumber("maxProperties", NamedKind.Most);
                    if (named.Names)
                    {
                        json.WriteStartObject("propertyNames");
                        json.WriteString("pattern", Vocabulary.NamePattern);
                        json.WriteEndObject();
                    }

                    json.WriteStartObject("additionalProperties");
                    WriteKind(named.Item, context);
                    json.WriteEndObject();
                    break;
                case ListKind { OneAlone: true } list:
                    json.WriteStartArray("anyOf");
                    WriteItem(list.Item, context);
                    WriteItem(list with { OneAlone = false }, context);
                    json.WriteEndArray();
                    break;
                case ListKind list:
                    WriteTypes(list.Least == 0 ? ["array", "null"] : ["array"]);
                    json.WriteNumber("minItems", list.Least);
                    json.WriteNumber("maxItems", list.Most);
                    json.WriteStartObject("items");
                    WriteKind(list.Item, context);
                    json.WriteEndObject();
                    break;
                case ChoiceKind choice:
                    json.WriteStartArray("enum");
                    foreach (string word in choice.Choices)
                    {
                        json.WriteStringValue(word);
                        // Unquoted, such a word is a number to other readers of YAML.
                        if (int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out int number))
                            json.WriteNumberValue(number);
                    }

                    json.WriteEndArray();
                    break;
                case NumberKind number:
                    json.WriteString("type", "number");
                    json.WriteNumber(number.Range.LeastAllowed ? "minimum" : "exclusiveMinimum", number.Range.Least);
                    json.WriteNumber("maximum", number.Range.Most);
                    break;
                case QuantityKind quantity:
                    json.WriteString("type", "string");
                    json.WriteString("pattern", QuantityPattern);
                    WriteExample(quantity.Example);
                    break;
                case DirectionKind direction:
                    json.WriteStartArray("anyOf");
                    WriteItem(new ChoiceKind([.. direction.Named.Keys]), context);
                    WriteItem(Quantities.Angle, context);
                    json.WriteEndArray();
                    break;
                case TextKind text:
                    WriteTypes(text.MayBeNumber ? ["string", "number"] : ["string"]);
                    if (text.Pattern is { } pattern)
                        json.WriteString("pattern", pattern);
                    else
                        json.WriteNumber("minLength", 1);
                    break;
            }
        }

        private void WriteItem(ValueKind kind, string context)
        {
            json.WriteStartObject();
            WriteKind(kind, context);
            json.WriteEndObject();
        }

        // What only one symmetry has is named after it; what all share comes first and goes without.
        private void WriteReference(MappingKind kind, string context)
        {
            if (!names.TryGetValue(kind, out string? name))
            {
                bool shared = ReferenceEquals(kind, Vocabulary.Material) || Vocabulary.File.Keys.Any(k => k.Kind == kind || k.Kind is NamedKind n && ReferenceEquals(n.Item, kind) || k.Kind is ListKind l && ReferenceEquals(l.Item, kind));
                name = shared ? kind.Name : context + kind.Name;
                for (int i = 2; names.ContainsValue(name); i++)
                    name = $"{context}{kind.Name} {i.ToString(CultureInfo.InvariantCulture)}";
                names.Add(kind, name);
                pending.Enqueue((kind, shared ? "" : context));
            }

            json.WriteString("$ref", "#/$defs/" + Uri.EscapeDataString(name));
        }

        private void WriteTypes(params string[] types)
        {
            if (types.Length == 1)
            {
                json.WriteString("type", types[0]);
                return;
            }

            json.WriteStartArray("type");
            foreach (string type in types)
                json.WriteStringValue(type);
            json.WriteEndArray();
        }

        private void WriteExample(string example)
        {
            json.WriteStartArray("examples");
            json.WriteStringValue(example);
            json.WriteEndArray();
        }
    }
}
