using System.Numerics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>Sums small scatterers over a band: beams, absorption and spreading out and back, each with a strength of its own.</summary>
internal sealed class ScattererSum
{
    private readonly BandNodes _nodes;
    private readonly FacetMedium _medium;
    private readonly BouncePath _path;
    private readonly double[] _atNodes;
    private readonly double[] _scratch;
    private readonly double[] _amplitudes;
    private readonly Complex[] _sums;
    private double _nearest = double.PositiveInfinity;
    private double _farthest;
    private long _count;

    internal ScattererSum(FacetSensor sensor, FrequencyBand band)
    {
        _medium = sensor.Medium;
        _nodes = BandNodes.Of(band, sensor.Medium);
        _path = BouncePath.All(sensor, null, SurfaceIntegralOptions.Default)[0];
        _atNodes = new double[_nodes.Count];
        _scratch = new double[_nodes.Count];
        _amplitudes = new double[band.Count];
        _sums = new Complex[band.Count];
    }

    /// <summary>Gets the wavenumbers at which strengths are given. [rad/m]</summary>
    internal ReadOnlySpan<double> Wavenumbers => _nodes.Wavenumbers;

    /// <summary>The way from the transmitter over a point to the receiver. [m]</summary>
    internal double PathMetres(Vec3 point) => point.DistanceTo(_path.Out.Position) + point.DistanceTo(_path.Back.Position);

    /// <summary>The unit directions from transmitter and receiver to a point.</summary>
    internal (Vec3 Out, Vec3 Back) Directions(Vec3 point) =>
        ((point - _path.Out.Position).Normalized(), (point - _path.Back.Position).Normalized());

    /// <summary>Adds a scatterer.</summary>
    /// <param name="point">Its position. [m]</param>
    /// <param name="strengths">Its strength at each of <see cref="Wavenumbers"/>: echo amplitude at 1 m for a unit wave. [m]</param>
    /// <param name="factor">A factor for all of them, a random phase for example.</param>
    internal void Add(Vec3 point, ReadOnlySpan<double> strengths, Complex factor)
    {
        Vec3 out1 = point - _path.Out.Position;
        Vec3 out2 = point - _path.Back.Position;
        double r1 = out1.Length;
        double r2 = out2.Length;
        double length = r1 + r2;
        for (int m = 0; m < _atNodes.Length; m++)
        {
            _atNodes[m] = strengths[m] * Math.Exp(-_nodes.AbsorptionNepersPerMetre[m] * length) / (r1 * r2);
        }

        _path.Out.Apply(out1 / r1, _nodes.Wavenumbers, _scratch, _atNodes);
        _path.Back.Apply(out2 / r2, _nodes.Wavenumbers, _scratch, _atNodes);
        _nodes.Spread(_atNodes, _amplitudes);
        double k0 = _medium.WavenumberRadiansPerMetre(_nodes.Band.LowestHertz);
        double dk = _medium.WavenumberRadiansPerMetre(_nodes.Band.StepHertz);
        var phase = new Rotor(k0 * length, dk * length);
        for (int j = 0; j < _sums.Length; j++)
        {
            _sums[j] += _amplitudes[j] * factor * new Complex(phase.Cosine, phase.Sine);
            phase.Step();
        }

        _nearest = Math.Min(_nearest, length);
        _farthest = Math.Max(_farthest, length);
        _count++;
    }

    internal EchoSpectrum ToEcho() =>
        new(_nodes.Band, [.. _sums], _count > 0 ? _nearest : 0.0, _farthest) { FacetsSummed = _count };
}
