using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;

namespace SonarGeom.Files.Bodies;

/// <summary>What the body tables must give so that every body can be built.</summary>
internal static class RequiredMeasures
{
    private static readonly ImmutableArray<BodyMeasure> OfBoth =
    [
        BodyMeasure.SuprasternaleHeight, BodyMeasure.AxillaHeight, BodyMeasure.WaistHeight, BodyMeasure.IliocristaleHeight,
        BodyMeasure.TrochanterionHeight, BodyMeasure.TibialHeight, BodyMeasure.AnkleHeight,
        BodyMeasure.HeadLength, BodyMeasure.HeadBreadth, BodyMeasure.EyeToVertex, BodyMeasure.TragionToVertex,
        BodyMeasure.NeckGirth, BodyMeasure.BiacromialBreadth, BodyMeasure.BideltoidBreadth, BodyMeasure.ChestBreadth,
        BodyMeasure.WaistBreadth, BodyMeasure.WaistGirth, BodyMeasure.HipBreadth, BodyMeasure.HipGirth,
        BodyMeasure.UpperArmLength, BodyMeasure.UpperArmGirth, BodyMeasure.ForearmLength, BodyMeasure.ForearmGirth,
        BodyMeasure.WristGirth, BodyMeasure.HandLength, BodyMeasure.HandBreadth, BodyMeasure.ThighGirth, BodyMeasure.CalfGirth,
        BodyMeasure.AnkleGirth, BodyMeasure.FootLength, BodyMeasure.FootBreadth, BodyMeasure.SittingHeight, BodyMeasure.BodyMass,
    ];

    /// <summary>Gets the measures of adults.</summary>
    internal static ImmutableArray<BodyMeasure> OfAdults { get; } =
    [
        .. OfBoth,
        BodyMeasure.Stature, BodyMeasure.EyeHeight, BodyMeasure.TragionHeight, BodyMeasure.ChinHeight, BodyMeasure.CervicaleHeight,
        BodyMeasure.AcromialHeight, BodyMeasure.ChestHeight, BodyMeasure.TenthRibHeight, BodyMeasure.CrotchHeight,
        BodyMeasure.ElbowHeight, BodyMeasure.WristHeight, BodyMeasure.FingertipHeight, BodyMeasure.KneecapHeight,
        BodyMeasure.KneeJointHeight, BodyMeasure.EarProtrusion, BodyMeasure.ChestDepth, BodyMeasure.WaistDepth,
        BodyMeasure.ButtockDepth, BodyMeasure.LowerThighGirth, BodyMeasure.HeelBreadth, BodyMeasure.EyeHeightSitting,
    ];

    /// <summary>Gets the measures of children; the others are worked out from these.</summary>
    internal static ImmutableArray<BodyMeasure> OfChildren { get; } =
    [
        .. OfBoth, BodyMeasure.HeadHeight, BodyMeasure.KneeHeightSitting, BodyMeasure.ThighClearance,
    ];

    /// <summary>Gets the keys of the single numbers.</summary>
    internal static ImmutableArray<string> Assumptions { get; } =
    [
        "footwear_thickness", "sternum_base_share", "sternum_base_error", "hip_joint_spacing_share", "hanging_arm_share",
        "age_loss_from_years", "age_loss_male", "age_loss_female", "seated_slump", "cane_length_share", "cane_hand_share",
        "cane_sweep_half_width", "cane_tip_rise", "child_cervicale_share", "child_chest_share", "child_chest_depth_share", "child_rib_share",
        "child_crotch_rise_share", "child_knee_share", "child_kneecap_share", "child_lower_thigh_share", "child_heel_share",
    ];

    /// <summary>Gets the movements of a stride.</summary>
    internal static ImmutableArray<string> Excursions { get; } =
    [
        "pelvis_rise", "pelvis_left", "head_rise", "head_left", "head_nose_down", "head_turn_left", "thorax_nose_down",
        "thorax_turn_left", "pelvis_turn_left", "pelvis_left_side_up", "pelvis_nose_down", "left_shoulder_forward", "left_elbow_bend",
    ];

    /// <summary>Returns the word by which a table calls a choice.</summary>
    internal static string Word<T>(this Column<T> column, T value) => ((ChoiceShape<T>)column.Shape).WordOf(value);
}
