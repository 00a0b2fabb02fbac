namespace SonarGeom.Coverage;

/// <summary>The shape of a probe target that is moved over the cells of a map.</summary>
public enum ProbeShape
{
    /// <summary>A round rod standing upright, before its attitude is applied.</summary>
    Rod,

    /// <summary>A round rod lying level across the path, before its attitude is applied.</summary>
    Branch,

    /// <summary>A sphere.</summary>
    Sphere,

    /// <summary>A flat rectangle facing the wearer square-on, before its attitude is applied.</summary>
    Board,
}
