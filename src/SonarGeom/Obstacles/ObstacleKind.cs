namespace SonarGeom.Obstacles;

/// <summary>The kinds of obstacle. Each kind reads its own sizes of <see cref="Obstacle"/>; see the factories there.</summary>
public enum ObstacleKind
{
    /// <summary>A round upright standing on the ground, or leaning when pitched or rolled.</summary>
    Pole,

    /// <summary>A round bar or branch, level and across the way unless turned.</summary>
    Bar,

    /// <summary>A sphere.</summary>
    Sphere,

    /// <summary>A thin flat board at any attitude.</summary>
    Board,

    /// <summary>An upright wall standing on the ground.</summary>
    Wall,

    /// <summary>A box standing on its lower face.</summary>
    Box,

    /// <summary>A step up across the way: an upright face and the ground in front of it.</summary>
    KerbUp,

    /// <summary>A step down across the way: no face towards the walker.</summary>
    StepDown,

    /// <summary>A flight of stairs going up, seen from its foot.</summary>
    Stairs,

    /// <summary>A hanging sign: a board with a given round or sharp lower edge.</summary>
    Sign,

    /// <summary>An awning: a sloped sheet with a front lip.</summary>
    Awning,

    /// <summary>The sloped underside of a stair.</summary>
    StairUnderside,

    /// <summary>A short post with a flat, domed or chamfered cap.</summary>
    Bollard,

    /// <summary>A chain or rope that sags between two points.</summary>
    Chain,

    /// <summary>A raised tail-gate: a nearly level plate at head height with a front lip.</summary>
    TailGate,

    /// <summary>The corner between a wall and the floor.</summary>
    WallFloorCorner,

    /// <summary>A thing given by a mesh, see <see cref="Obstacle.Shape"/>: its echo is a surface integral.</summary>
    Mesh,

    /// <summary>A bush, a hedge, a crown or a leafy branch: leaves at random places and attitudes; its echo swings from ping to ping.</summary>
    Foliage,
}
