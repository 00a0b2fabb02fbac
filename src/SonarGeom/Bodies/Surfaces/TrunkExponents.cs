namespace SonarGeom.Bodies.Surfaces;

/// <summary>How square the trunk is at its levels: exponents of the superellipse, chosen so that tabled breadth and depth come near
/// the tabled girth. The chest girth runs over muscle that the tabled rib breadth leaves out, so its exponent is only as
/// square as looks natural.</summary>
internal static class TrunkExponents
{
    internal const double Chest = 2.8;
    internal const double Waist = 2.6;
    internal const double Hip = 2.8;
}
