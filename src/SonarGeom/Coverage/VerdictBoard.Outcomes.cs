using SonarGeom.Layouts;

namespace SonarGeom.Coverage;

/// <content>What distances and sides come to: the outcome.</content>
public sealed partial class VerdictBoard
{
    private VerdictOutcome OutcomeOf(Contact contact, double warning, AnnouncedSide announced, bool breaksOff)
    {
        if (!contact.IsOnCourse)
        {
            return warning >= _timeNeeded ? VerdictOutcome.PassedBesideHeard : VerdictOutcome.PassedBesideSilent;
        }

        if (breaksOff)
        {
            return VerdictOutcome.LostAgain;
        }

        if (warning <= 0)
        {
            return VerdictOutcome.Missed;
        }

        if (warning < _timeNeeded)
        {
            return VerdictOutcome.TooLate;
        }

        HazardSide side = SideOf(contact);
        bool wrong = (announced == AnnouncedSide.Left && side == HazardSide.Right) || (announced == AnnouncedSide.Right && side == HazardSide.Left);
        return wrong ? VerdictOutcome.WrongSide : VerdictOutcome.WarnedInTime;
    }

    private static HazardSide SideOf(Contact contact) =>
        contact.MiddleYMetres - (0.5 * contact.HalfWidthMetres) > ClearlyOneSidedMetres ? HazardSide.Left
        : contact.MiddleYMetres + (0.5 * contact.HalfWidthMetres) < -ClearlyOneSidedMetres ? HazardSide.Right
        : HazardSide.Centre;
}
