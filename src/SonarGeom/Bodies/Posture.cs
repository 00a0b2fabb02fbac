using SonarGeom.Quantities;

namespace SonarGeom.Bodies;

/// <summary>How the wearer holds trunk and head, standing, walking or seated.</summary>
public sealed record Posture
{
    /// <summary>Makes a posture.</summary>
    /// <param name="trunkFlexion">Forward lean of the trunk above the waist, from 0° to 60°.</param>
    /// <param name="headDown">How far the face looks down from the horizontal, from −30° (up) to 60°.</param>
    /// <param name="slumpMetres">How much the trunk is shortened by relaxed sitting or standing, from 0 to 0.06. [m]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public Posture(Angle trunkFlexion, Angle headDown, double slumpMetres = 0)
    {
        Finite.Within(trunkFlexion.Degrees, -1e-9, 60 + 1e-9, "Trunk flexion", "°");
        Finite.Within(headDown.Degrees, -30 - 1e-9, 60 + 1e-9, "Head-down angle", "°");
        Finite.Within(slumpMetres, 0, 0.06, "Slump", "m");
        TrunkFlexion = trunkFlexion;
        HeadDown = headDown;
        SlumpMetres = slumpMetres;
    }

    /// <summary>Erect, looking straight ahead: the posture of the survey.</summary>
    public static Posture Upright { get; } = new(Angle.Zero, Angle.Zero);

    /// <summary>Trunk leaning 20° forward and face 10° down. Angles assumed, no survey.</summary>
    public static Posture Stooped { get; } = new(Angle.FromDegrees(20), Angle.FromDegrees(10));

    /// <summary>Gets the forward lean of the trunk above the waist.</summary>
    public Angle TrunkFlexion { get; }

    /// <summary>Gets how far the face looks down from the horizontal.</summary>
    public Angle HeadDown { get; }

    /// <summary>Gets how much the trunk is shortened by relaxed sitting or standing. [m]</summary>
    public double SlumpMetres { get; }

    /// <summary>Returns the erect posture with the head bowed.</summary>
    /// <param name="headDown">How far the face looks down; blind walkers 0° to 25°, typically 10° (assumed).</param>
    public static Posture HeadBowed(Angle headDown) => new(Angle.Zero, headDown);
}
