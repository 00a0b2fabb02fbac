namespace SonarGeom.Bodies;

/// <summary>Body measures of the survey tables. Heights are above the floor, barefoot. All in metres but the mass. A table names
/// a measure in small letters with underscores: <c>chest_breadth</c>. The tables give the definition of each.</summary>
public enum BodyMeasure
{
    /// <summary>Floor to top of head, standing erect, barefoot.</summary>
    Stature,

    /// <summary>Stature minus (sitting height minus sitting eye height); eye point = outer corner of the eye.</summary>
    EyeHeight,

    /// <summary>Stature minus vertical distance tragion (ear notch) to top of head.</summary>
    TragionHeight,

    /// <summary>Approximate: standing eye height minus menton-sellion length.</summary>
    ChinHeight,

    /// <summary>Floor to tip of the C7 spinous process.</summary>
    CervicaleHeight,

    /// <summary>Floor to right acromion landmark, standing.</summary>
    AcromialHeight,

    /// <summary>Floor to notch at top of breastbone.</summary>
    SuprasternaleHeight,

    /// <summary>Floor to armpit landmark (anterior scye level).</summary>
    AxillaHeight,

    /// <summary>Floor to chest point (nipple/bust-point level).</summary>
    ChestHeight,

    /// <summary>Floor to lowest point of tenth rib.</summary>
    TenthRibHeight,

    /// <summary>Floor to centre of navel.</summary>
    WaistHeight,

    /// <summary>Floor to top of iliac crest.</summary>
    IliocristaleHeight,

    /// <summary>Floor to greater trochanter.</summary>
    TrochanterionHeight,

    /// <summary>Floor to crotch.</summary>
    CrotchHeight,

    /// <summary>Floor to the fold under the buttock; measured on children.</summary>
    GlutealFurrowHeight,

    /// <summary>Acromial height minus acromion-radiale length (arm hanging straight).</summary>
    ElbowHeight,

    /// <summary>Floor to stylion, arm hanging.</summary>
    WristHeight,

    /// <summary>Wrist height minus hand length.</summary>
    FingertipHeight,

    /// <summary>Floor to middle of kneecap, standing.</summary>
    KneecapHeight,

    /// <summary>Floor to lateral femoral epicondyle, standing.</summary>
    KneeJointHeight,

    /// <summary>Floor to tibiale landmark.</summary>
    TibialHeight,

    /// <summary>Floor to lateral malleolus.</summary>
    AnkleHeight,

    /// <summary>Chin to top of head; of adults from stature and chin height.</summary>
    HeadHeight,

    /// <summary>Glabella to opisthocranion.</summary>
    HeadLength,

    /// <summary>Maximum breadth above the ears.</summary>
    HeadBreadth,

    /// <summary>Maximum circumference above brow ridges.</summary>
    HeadGirth,

    /// <summary>Vertical distance tragion to top of head.</summary>
    TragionToVertex,

    /// <summary>Sitting height minus sitting eye height.</summary>
    EyeToVertex,

    /// <summary>Chin to nasal-root depression.</summary>
    MentonSellionLength,

    /// <summary>How far the ear stands out from the head.</summary>
    EarProtrusion,

    /// <summary>Girth of the neck just below the larynx.</summary>
    NeckGirth,

    /// <summary>Between the acromia.</summary>
    BiacromialBreadth,

    /// <summary>Maximum breadth across deltoids.</summary>
    BideltoidBreadth,

    /// <summary>Across forearms, seated, elbows bent at the sides.</summary>
    ForearmForearmBreadth,

    /// <summary>At chest-point level.</summary>
    ChestBreadth,

    /// <summary>At chest-point level, front to back.</summary>
    ChestDepth,

    /// <summary>Girth at chest-point level.</summary>
    ChestGirth,

    /// <summary>At navel level.</summary>
    WaistBreadth,

    /// <summary>At navel level.</summary>
    WaistDepth,

    /// <summary>Girth at navel level.</summary>
    WaistGirth,

    /// <summary>At maximum protrusion of buttock.</summary>
    ButtockDepth,

    /// <summary>At maximum lateral protrusion of the hips.</summary>
    HipBreadth,

    /// <summary>Girth at the greatest protrusion of the buttocks.</summary>
    HipGirth,

    /// <summary>Across iliac crests.</summary>
    BicristalBreadth,

    /// <summary>Acromion to radiale.</summary>
    UpperArmLength,

    /// <summary>Girth of the flexed upper arm at its fullest; a hanging arm is thinner.</summary>
    UpperArmGirth,

    /// <summary>Radiale to stylion.</summary>
    ForearmLength,

    /// <summary>Girth of the flexed forearm at its fullest.</summary>
    ForearmGirth,

    /// <summary>Girth of the wrist at stylion.</summary>
    WristGirth,

    /// <summary>Stylion to tip of middle finger.</summary>
    HandLength,

    /// <summary>Breadth of the hand across the metacarpals.</summary>
    HandBreadth,

    /// <summary>At the buttock furrow.</summary>
    ThighGirth,

    /// <summary>Girth of the thigh just above the kneecap.</summary>
    LowerThighGirth,

    /// <summary>Maximum.</summary>
    CalfGirth,

    /// <summary>Least girth of the lower leg above the ankle.</summary>
    AnkleGirth,

    /// <summary>Breadth of the heel.</summary>
    HeelBreadth,

    /// <summary>Heel to longest toe.</summary>
    FootLength,

    /// <summary>Greatest breadth of the foot.</summary>
    FootBreadth,

    /// <summary>Seat to top of head.</summary>
    SittingHeight,

    /// <summary>Seat to outer corner of eye.</summary>
    EyeHeightSitting,

    /// <summary>Floor to back of knee, seated.</summary>
    PoplitealHeight,

    /// <summary>Seated, floor to top of the knee.</summary>
    KneeHeightSitting,

    /// <summary>Seated, back of the buttock to front of the knee.</summary>
    ButtockKneeLength,

    /// <summary>Seated, seat to the highest point of the thigh.</summary>
    ThighClearance,

    /// <summary>Fingertip to fingertip.</summary>
    Span,

    /// <summary>Body mass. [kg].</summary>
    BodyMass,
}
