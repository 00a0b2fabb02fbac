namespace SonarGeom.Echoes.Facets;

/// <summary>A unit complex number that turns by the same angle at every step.</summary>
internal struct Rotor
{
    private readonly double _stepCosine;
    private readonly double _stepSine;

    internal Rotor(double startRadians, double stepRadians)
    {
        (Sine, Cosine) = Math.SinCos(startRadians);
        (_stepSine, _stepCosine) = Math.SinCos(stepRadians);
    }

    internal double Cosine { get; private set; }

    internal double Sine { get; private set; }

    internal void Step()
    {
        double cosine = (Cosine * _stepCosine) - (Sine * _stepSine);
        Sine = (Sine * _stepCosine) + (Cosine * _stepSine);
        Cosine = cosine;
    }
}
