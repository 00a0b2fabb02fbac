namespace SonarGeom.Files.Meshes;

/// <summary>The loss of one material of a mesh.</summary>
/// <param name="Material">The name of the material in the mesh file.</param>
/// <param name="ReflectionLossDecibels">Its loss at one reflection, 0 to 100. [dB]</param>
public sealed record MaterialLoss(string Material, double ReflectionLossDecibels);
