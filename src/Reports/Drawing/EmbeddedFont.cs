using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using System.Text;
using SkiaSharp;

namespace Vanehour.Reports.Drawing;

/// <summary>
/// The one typeface of all reports, Inter (SIL Open Font License). It is read from an assembly that is embedded as data and never loaded as code,
/// so that no font of the machine is ever asked for.
/// </summary>
internal static class EmbeddedFont
{
    private const string Regular = "Inter-Regular.ttf";
    private const string SemiBold = "Inter-SemiBold.ttf";
    private const string AssetStream = "!AvaloniaResources";

    private static readonly Lazy<IReadOnlyDictionary<string, (SKTypeface Face, byte[] File)>> Faces = new(Load);

    /// <summary>The face for a weight: regular below 600, semi-bold from there.</summary>
    public static SKTypeface Of(double weight) => Faces.Value[NameOf(WeightOf(weight))].Face;

    /// <summary>The weight that is drawn for a weight asked for: 400 or 600.</summary>
    public static int WeightOf(double weight) => weight >= 600 ? 600 : 400;

    /// <summary>The file of the face for a weight, TrueType.</summary>
    public static byte[] FileOf(double weight) => Faces.Value[NameOf(WeightOf(weight))].File;

    private static string NameOf(int weight) => weight == 600 ? SemiBold : Regular;

    private static Dictionary<string, (SKTypeface Face, byte[] File)> Load()
    {
        using var carrier = typeof(EmbeddedFont).Assembly.GetManifestResourceStream("Inter.dll")
            ?? throw new InvalidOperationException("The reports were built without their typeface.");
        using var assembly = new PEReader(carrier, PEStreamOptions.PrefetchEntireImage);
        using var assets = new BinaryReader(new MemoryStream(Assets(assembly)), Encoding.UTF8);

        // An index (its length, a version, a count, then name, offset and size of each file), then the files.
        var start = assets.ReadInt32() + sizeof(int);
        _ = assets.ReadInt32();
        var entries = new List<(string Path, int Offset, int Size)>();
        for (var left = assets.ReadInt32(); left > 0; left--)
        {
            entries.Add((assets.ReadString(), assets.ReadInt32(), assets.ReadInt32()));
        }

        var faces = new Dictionary<string, (SKTypeface Face, byte[] File)>(StringComparer.Ordinal);
        foreach (var (path, offset, size) in entries.Where(e => Path.GetFileName(e.Path) is Regular or SemiBold))
        {
            assets.BaseStream.Position = start + offset;
            var file = assets.ReadBytes(size);
            using var data = SKData.CreateCopy(file);
            var face = SKTypeface.FromData(data) ?? throw new InvalidOperationException($"The embedded typeface {path} can't be read.");
            faces[Path.GetFileName(path)] = (face, file);
        }

        return faces;
    }

    private static byte[] Assets(PEReader assembly)
    {
        var metadata = assembly.GetMetadataReader();
        foreach (var handle in metadata.ManifestResources)
        {
            var resource = metadata.GetManifestResource(handle);
            if (metadata.StringComparer.Equals(resource.Name, AssetStream))
            {
                var section = assembly.GetSectionData(assembly.PEHeaders.CorHeader!.ResourcesDirectory.RelativeVirtualAddress);
                var reader = section.GetReader((int)resource.Offset, section.Length - (int)resource.Offset);
                return reader.ReadBytes(reader.ReadInt32());
            }
        }

        throw new InvalidOperationException("The embedded assembly carries no typeface.");
    }
}
