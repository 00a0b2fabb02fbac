using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Obstacles;

/// <summary>
/// An obstacle at a pose. Its own frame has X away from the walker, Y left and Z up: it faces the walker with −X. Each kind reads
/// the sizes it needs (see the factories) and refuses those that are missing; the others stay 0. Immutable.
/// </summary>
/// <param name="Id">A short name, unique in its set.</param>
/// <param name="Kind">What it is.</param>
/// <param name="PositionMetres">
/// Its reference point: the middle of the foot for what stands on the ground (front face for walls, kerbs and stairs; lip for a
/// step down), the middle of the lower end of foliage, the middle of the straight line between the ends for a chain, the middle of the front lip for an awning or a
/// tail-gate, else the middle. [m]
/// </param>
public sealed partial record Obstacle(string Id, ObstacleKind Kind, Vec3 PositionMetres)
{
    /// <summary>Gets the turn about the vertical, positive left.</summary>
    public Angle Yaw { get; init; }

    /// <summary>Gets the rise of the obstacle's X axis, positive up: a board pitched up faces down towards the walker.</summary>
    public Angle Pitch { get; init; }

    /// <summary>Gets the right-handed turn about the obstacle's X axis: it raises the left end of a level bar.</summary>
    public Angle Roll { get; init; }

    /// <summary>Gets the size from left to right. [m]</summary>
    public double WidthMetres { get; init; }

    /// <summary>Gets the size from bottom to top; for stairs the rise of one step. [m]</summary>
    public double HeightMetres { get; init; }

    /// <summary>Gets the size from front to back; for stairs the going of one step. [m]</summary>
    public double DepthMetres { get; init; }

    /// <summary>Gets the diameter of what is round; for signs, awnings and tail-gates that of a rounded lip, 0 for a sharp one. [m]</summary>
    public double DiameterMetres { get; init; }

    /// <summary>Gets the top of a bollard.</summary>
    public CapShape Cap { get; init; }

    /// <summary>Gets the rise of a domed or chamfered cap. [m]</summary>
    public double CapSizeMetres { get; init; }

    /// <summary>Gets the number of steps of a stair.</summary>
    public int StepCount { get; init; }

    /// <summary>Gets how far the middle of a chain hangs below its ends. [m]</summary>
    public double SagMetres { get; init; }

    /// <summary>Gets the mesh of an obstacle of that kind, in the obstacle's own frame; null for all others.</summary>
    public MeshShape? Shape { get; init; }

    /// <summary>Gets the loss of the material at one reflection, 0 for hard solids. [dB]</summary>
    public double ReflectionLossDecibels { get; init; }

    /// <summary>
    /// Gets the root-mean-square height of its surface, or null for the assumption of its kind: 1 mm for kerbs, stairs and step
    /// edges of stone or concrete, 0.3 mm for masonry walls, 0 for painted, metal, glass and wooden things. [m]
    /// </summary>
    public double? RoughnessRmsMetres { get; init; }

    /// <summary>Gets the speed at which it closes on a walker who stands still, or null when it does not move. [m/s]</summary>
    public double? ClosingSpeedMetresPerSecond { get; init; }

    /// <summary>Gets free text.</summary>
    public string Note { get; init; } = "";

    /// <summary>Gets where its sizes come from.</summary>
    public string Source { get; init; } = "";

    /// <summary>Gets the pose: from the obstacle's own frame to the world.</summary>
    public RigidTransform WorldFromObstacle => new(Rotation.FromAzimuthTiltRoll(Yaw, Pitch, Roll), PositionMetres);

    /// <summary>Gets the roughness used: the stated one or the assumption of the kind. [m]</summary>
    public double EffectiveRoughnessRmsMetres => RoughnessRmsMetres ?? Kind switch
    {
        ObstacleKind.KerbUp or ObstacleKind.StepDown or ObstacleKind.Stairs or ObstacleKind.StairUnderside => 1e-3,
        ObstacleKind.Wall or ObstacleKind.WallFloorCorner => 0.3e-3,
        _ => 0,
    };

    /// <summary>A pole that stands on the ground.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="footMetres">Middle of its foot. [m]</param>
    /// <param name="diameterMetres">Diameter. [m]</param>
    /// <param name="heightMetres">Height. [m]</param>
    public static Obstacle Pole(string id, Vec3 footMetres, double diameterMetres, double heightMetres) =>
        new Obstacle(id, ObstacleKind.Pole, footMetres) { DiameterMetres = diameterMetres, HeightMetres = heightMetres }.Validated();

    /// <summary>A level round bar across the way.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="middleMetres">Its middle. [m]</param>
    /// <param name="diameterMetres">Diameter. [m]</param>
    /// <param name="lengthMetres">Length. [m]</param>
    public static Obstacle Bar(string id, Vec3 middleMetres, double diameterMetres, double lengthMetres) =>
        new Obstacle(id, ObstacleKind.Bar, middleMetres) { DiameterMetres = diameterMetres, WidthMetres = lengthMetres }.Validated();

    /// <summary>A sphere.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="middleMetres">Its centre. [m]</param>
    /// <param name="diameterMetres">Diameter. [m]</param>
    public static Obstacle Sphere(string id, Vec3 middleMetres, double diameterMetres) =>
        new Obstacle(id, ObstacleKind.Sphere, middleMetres) { DiameterMetres = diameterMetres }.Validated();

    /// <summary>A thin board that faces the walker.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="middleMetres">Its middle. [m]</param>
    /// <param name="widthMetres">Width. [m]</param>
    /// <param name="heightMetres">Height. [m]</param>
    public static Obstacle Board(string id, Vec3 middleMetres, double widthMetres, double heightMetres) =>
        new Obstacle(id, ObstacleKind.Board, middleMetres) { WidthMetres = widthMetres, HeightMetres = heightMetres }.Validated();

    /// <summary>An upright wall on the ground.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="footMetres">Middle of the foot of its front face. [m]</param>
    /// <param name="widthMetres">Width. [m]</param>
    /// <param name="heightMetres">Height. [m]</param>
    public static Obstacle Wall(string id, Vec3 footMetres, double widthMetres, double heightMetres) =>
        new Obstacle(id, ObstacleKind.Wall, footMetres) { WidthMetres = widthMetres, HeightMetres = heightMetres }.Validated();

    /// <summary>A box on its lower face.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="footMetres">Middle of its lower face. [m]</param>
    /// <param name="depthMetres">Size from front to back. [m]</param>
    /// <param name="widthMetres">Width. [m]</param>
    /// <param name="heightMetres">Height. [m]</param>
    public static Obstacle Box(string id, Vec3 footMetres, double depthMetres, double widthMetres, double heightMetres) =>
        new Obstacle(id, ObstacleKind.Box, footMetres) { DepthMetres = depthMetres, WidthMetres = widthMetres, HeightMetres = heightMetres }.Validated();

    /// <summary>A thing given by a mesh, upright.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="originMetres">Where the origin of the mesh is. [m]</param>
    /// <param name="shape">The mesh, whose materials have their own losses.</param>
    public static Obstacle OfMesh(string id, Vec3 originMetres, MeshShape shape) =>
        new Obstacle(id, ObstacleKind.Mesh, originMetres) { Shape = shape }.Validated();

    /// <summary>A kerb or step up.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="footMetres">Middle of the corner line between its face and the road. [m]</param>
    /// <param name="heightMetres">Height. [m]</param>
    /// <param name="lengthMetres">Length across the way. [m]</param>
    public static Obstacle KerbUp(string id, Vec3 footMetres, double heightMetres, double lengthMetres) =>
        new Obstacle(id, ObstacleKind.KerbUp, footMetres) { HeightMetres = heightMetres, WidthMetres = lengthMetres }.Validated();

    /// <summary>A step down.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="lipMetres">Middle of its lip. [m]</param>
    /// <param name="dropMetres">Depth of the drop. [m]</param>
    /// <param name="lengthMetres">Length across the way. [m]</param>
    public static Obstacle StepDown(string id, Vec3 lipMetres, double dropMetres, double lengthMetres) =>
        new Obstacle(id, ObstacleKind.StepDown, lipMetres) { HeightMetres = dropMetres, WidthMetres = lengthMetres }.Validated();

    /// <summary>A flight of stairs going up.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="footMetres">Middle of the foot of the first riser. [m]</param>
    /// <param name="stepCount">Number of steps. </param>
    /// <param name="riseMetres">Rise of one step. [m]</param>
    /// <param name="goingMetres">Going of one step. [m]</param>
    /// <param name="widthMetres">Width. [m]</param>
    public static Obstacle Stairs(string id, Vec3 footMetres, int stepCount, double riseMetres, double goingMetres, double widthMetres) =>
        new Obstacle(id, ObstacleKind.Stairs, footMetres)
        { StepCount = stepCount, HeightMetres = riseMetres, DepthMetres = goingMetres, WidthMetres = widthMetres }.Validated();

    /// <summary>A bollard.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="footMetres">Middle of its foot. [m]</param>
    /// <param name="diameterMetres">Diameter. [m]</param>
    /// <param name="heightMetres">Height over all. [m]</param>
    /// <param name="cap">Its top.</param>
    /// <param name="capSizeMetres">Rise of a domed or chamfered top; 0 for a flat one. [m]</param>
    public static Obstacle Bollard(string id, Vec3 footMetres, double diameterMetres, double heightMetres, CapShape cap, double capSizeMetres = 0) =>
        new Obstacle(id, ObstacleKind.Bollard, footMetres)
        { DiameterMetres = diameterMetres, HeightMetres = heightMetres, Cap = cap, CapSizeMetres = capSizeMetres }.Validated();

    /// <summary>A chain or rope that hangs across the way.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="middleMetres">Middle of the straight line between its ends. [m]</param>
    /// <param name="diameterMetres">Diameter. [m]</param>
    /// <param name="spanMetres">Distance between its ends. [m]</param>
    /// <param name="sagMetres">Sag of its middle. [m]</param>
    public static Obstacle Chain(string id, Vec3 middleMetres, double diameterMetres, double spanMetres, double sagMetres) =>
        new Obstacle(id, ObstacleKind.Chain, middleMetres)
        { DiameterMetres = diameterMetres, WidthMetres = spanMetres, SagMetres = sagMetres }.Validated();

    /// <summary>Returns the obstacle moved without turning.</summary>
    /// <param name="offset">The displacement. [m]</param>
    public Obstacle MovedBy(Vec3 offset) => this with { PositionMetres = PositionMetres + offset };
}
