using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>Sums what exact rigid edges have beyond the edges of the surface integral, over a band.</summary>
internal sealed class EdgeAccumulator
{
    /// <summary>Edges are cut into elements of at most the wavelength over this.</summary>
    private const double ElementsPerWavelength = 4.0;

    private readonly BandNodes _nodes;
    private readonly FacetMedium _medium;
    private readonly double _materialAmplitude;
    private readonly double[] _atNodes;
    private readonly double[] _scratch;
    private readonly double[] _amplitudes;

    internal EdgeAccumulator(BandNodes nodes, FacetMedium medium, FacetSurface surface)
    {
        _nodes = nodes;
        _medium = medium;
        _materialAmplitude = Math.Exp(-FacetMedium.NepersPerDecibel * surface.ReflectionLossDecibels);
        _atNodes = new double[nodes.Count];
        _scratch = new double[nodes.Count];
        _amplitudes = new double[nodes.Band.Count];
        Real = new double[nodes.Band.Count];
        Imaginary = new double[nodes.Band.Count];
    }

    internal double[] Real { get; }

    internal double[] Imaginary { get; }

    /// <summary>Adds one edge along one path.</summary>
    /// <param name="edge">The edge.</param>
    /// <param name="path">The path.</param>
    /// <param name="occluders">What can stand in the way; null when nothing can.</param>
    /// <param name="shadowStart">Rays start this far off the edge. [m]</param>
    internal void Add(in WedgeEdge edge, in BouncePath path, IRayScene? occluders, double shadowStart)
    {
        double wavelength = _medium.SoundSpeedMetresPerSecond / _nodes.Band.HighestHertz;
        Vec3 whole = edge.End - edge.Start;
        int elements = Math.Max(2, (int)Math.Ceiling(whole.Length * ElementsPerWavelength / wavelength));
        Vec3 step = whole / elements;
        double length = step.Length;
        Vec3 along = step / length;
        for (int i = 0; i < elements; i++)
        {
            Vec3 point = edge.Start + ((i + 0.5) * step);
            double excess = edge.Excess(point, path.Out.Position, path.Back.Position);
            if (excess == 0)
            {
                continue;
            }

            if (occluders is not null)
            {
                Vec3 off = point + (shadowStart * edge.Outward);
                if (!path.Out.IsVisibleFrom(off, occluders, shadowStart) || !path.Back.IsVisibleFrom(off, occluders, shadowStart))
                {
                    continue;
                }
            }

            AddElement(point, excess * length, along, length, path);
        }
    }

    private void AddElement(Vec3 point, double strength, Vec3 along, double length, in BouncePath path)
    {
        Vec3 out1 = point - path.Out.Position;
        Vec3 out2 = point - path.Back.Position;
        double r1 = out1.Length;
        double r2 = out2.Length;
        Vec3 u1 = out1 / r1;
        Vec3 u2 = out2 / r2;
        for (int m = 0; m < _atNodes.Length; m++)
        {
            _atNodes[m] = strength * _materialAmplitude * Math.Exp(-_nodes.AbsorptionNepersPerMetre[m] * (r1 + r2));
        }

        path.Out.Apply(u1, _nodes.Wavenumbers, _scratch, _atNodes);
        path.Back.Apply(u2, _nodes.Wavenumbers, _scratch, _atNodes);
        _nodes.Spread(_atNodes, _amplitudes);
        double k0 = _medium.WavenumberRadiansPerMetre(_nodes.Band.LowestHertz);
        double dk = _medium.WavenumberRadiansPerMetre(_nodes.Band.StepHertz);
        double half = 0.5 * length * (u1.Dot(along) + u2.Dot(along));
        var phase = new Rotor(k0 * (r1 + r2), dk * (r1 + r2));
        for (int j = 0; j < _amplitudes.Length; j++)
        {
            double a = _amplitudes[j] * TrianglePhaseIntegral.Sinc((k0 + (j * dk)) * half);
            Real[j] += a * phase.Cosine;
            Imaginary[j] += a * phase.Sine;
            phase.Step();
        }
    }
}
