namespace SonarGeom.Bodies;

/// <summary>What is known about a wearer, from which a body is built. Give either a stature or a percentile, and at most one
/// of mass and waist girth; what is not given follows from the survey tables.</summary>
public sealed record WearerSpec
{
    /// <summary>Gets the name under which results are told.</summary>
    public string Name { get; init; } = "wearer";

    /// <summary>Gets who that is, in a sentence.</summary>
    public string Description { get; init; } = string.Empty;

    /// <summary>Gets where the numbers given here come from.</summary>
    public string Source { get; init; } = string.Empty;

    /// <summary>Gets the sex whose tables are used.</summary>
    public Sex Sex { get; init; } = Sex.Male;

    /// <summary>Gets the stature: standing height without shoes. [m] Null: from the percentile.</summary>
    public double? StatureMetres { get; init; }

    /// <summary>Gets the percentile of stature among adults of the survey, or among children of the age; from 1 to 99.
    /// Null and no stature given: 50.</summary>
    public double? StaturePercentile { get; init; }

    /// <summary>Gets the body mass without clothes. [kg] Null: as expected for the stature.</summary>
    public double? MassKilograms { get; init; }

    /// <summary>Gets the girth at navel level. [m] Null: as expected for the stature and mass.</summary>
    public double? WaistGirthMetres { get; init; }

    /// <summary>Gets the age. [years] Null: an adult as surveyed. Below 18 the tables of children are used. From the age of 70 a
    /// stature read from a percentile is lowered by the tabled loss.</summary>
    public double? AgeYears { get; init; }

    /// <summary>Gets the thickness of the shoe sole under the heel, from 0 to 0.12. [m] Null: as tabled.</summary>
    public double? FootwearMetres { get; init; }

    /// <summary>Gets the posture in which the wearer stands, walks or sits. Mounts are aimed in the upright posture and then move
    /// with the body into this one.</summary>
    public Posture Posture { get; init; } = Posture.Upright;

    /// <summary>Gets the kind of wheelchair used, or null for a wearer on foot.</summary>
    public WheelchairKind? Wheelchair { get; init; }

    /// <summary>Gets the height of the occupied seat above the ground, from 0.35 to 0.75. [m] Null: as tabled.</summary>
    public double? SeatHeightMetres { get; init; }

    /// <summary>Gets the side on which a long cane is carried, or null for none.</summary>
    public BodySide? CaneSide { get; init; }

    /// <summary>Gets the side on which a guide dog goes, whose harness the hand of that side holds; or null for none. The dog itself is
    /// not modelled.</summary>
    public BodySide? GuideDogSide { get; init; }
}
