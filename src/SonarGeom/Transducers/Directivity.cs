using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>How the pressure of a transmitter, or the response of a receiver, falls off its boresight. Immutable.</summary>
/// <remarks>Sensor frame: X along the boresight, Y left, Z up. Every pattern is mirror symmetric left to right and up to down.</remarks>
public abstract class Directivity
{
    private const double ScanStepRadians = Math.PI / 720;
    private const int QuadratureSteps = 512;
    private const int AzimuthSteps = 64;

    /// <summary>Gets whether the pattern is the same in every plane through the boresight.</summary>
    public abstract bool IsAxisymmetric { get; }

    /// <summary>Gets whether the pattern changes with frequency.</summary>
    public abstract bool DependsOnWavenumber { get; }

    /// <summary>Gets the pattern in words, with its figures and units.</summary>
    public abstract string Description { get; }

    /// <summary>Returns the amplitude relative to the boresight: signed, lobes may alternate; 0 behind the face (X ≤ 0). [unitless]</summary>
    /// <param name="unitDirection">A unit vector in the sensor frame, away from the transducer.</param>
    /// <param name="wavenumberRadiansPerMetre">2π over the wavelength, above 0. [rad/m]</param>
    public abstract double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre);

    /// <summary>Fills in the amplitude in one direction at many wavenumbers.</summary>
    /// <param name="unitDirection">A unit vector in the sensor frame.</param>
    /// <param name="wavenumbersRadiansPerMetre">The wavenumbers, each above 0. [rad/m]</param>
    /// <param name="amplitudes">Receives the amplitudes; at least as long. [unitless]</param>
    public virtual void Amplitudes(
        Vec3 unitDirection, ReadOnlySpan<double> wavenumbersRadiansPerMetre, Span<double> amplitudes)
    {
        if (!DependsOnWavenumber && wavenumbersRadiansPerMetre.Length > 0)
        {
            amplitudes[..wavenumbersRadiansPerMetre.Length].Fill(Amplitude(unitDirection, wavenumbersRadiansPerMetre[0]));
            return;
        }

        for (int i = 0; i < wavenumbersRadiansPerMetre.Length; i++)
        {
            amplitudes[i] = Amplitude(unitDirection, wavenumbersRadiansPerMetre[i]);
        }
    }

    /// <summary>Returns the amplitude at an angle off the boresight in the horizontal or the vertical plane. [unitless]</summary>
    /// <param name="offAxis">The angle off the boresight; its sign does not matter.</param>
    /// <param name="wavenumberRadiansPerMetre">2π over the wavelength, above 0. [rad/m]</param>
    /// <param name="verticalPlane">Whether the angle lies in the vertical plane of the sensor frame.</param>
    public double AmplitudeAt(Angle offAxis, double wavenumberRadiansPerMetre, bool verticalPlane = false)
    {
        (double sine, double cosine) = Math.SinCos(offAxis.Radians);
        return Amplitude(verticalPlane ? new Vec3(cosine, 0, sine) : new Vec3(cosine, sine, 0), wavenumberRadiansPerMetre);
    }

    /// <summary>Returns the smallest angle off the boresight at which the one-way level falls to a given level; 90° when it does not before.</summary>
    /// <param name="levelDecibels">The level relative to the boresight, one way, below 0. [dB]</param>
    /// <param name="wavenumberRadiansPerMetre">2π over the wavelength, above 0. [rad/m]</param>
    /// <param name="verticalPlane">Whether to look in the vertical plane of the sensor frame.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="levelDecibels"/> is not below 0 or not finite.</exception>
    public Angle HalfAngleAt(double levelDecibels, double wavenumberRadiansPerMetre, bool verticalPlane = false)
    {
        if (!(levelDecibels < 0) || !double.IsFinite(levelDecibels))
        {
            throw new ArgumentOutOfRangeException(
                nameof(levelDecibels), $"levelDecibels is {levelDecibels} dB; it must be below 0 dB.");
        }

        double target = Decibels.ToAmplitudeRatio(levelDecibels);
        double inside = 0;
        double outside = 0;
        do
        {
            inside = outside;
            outside = Math.Min(outside + ScanStepRadians, Math.PI / 2);
            if (outside >= Math.PI / 2)
            {
                // Just in front of the face: a pattern that is still above the level there never falls to it.
                outside = Math.BitDecrement(Math.PI / 2);
                if (Excess(outside) > 0)
                {
                    return Angle.FromRadians(Math.PI / 2);
                }

                break;
            }
        }
        while (Excess(outside) > 0);

        for (int i = 0; i < 60 && outside - inside > 1e-15; i++)
        {
            double middle = 0.5 * (inside + outside);
            if (Excess(middle) > 0)
            {
                inside = middle;
            }
            else
            {
                outside = middle;
            }
        }

        return Angle.FromRadians(0.5 * (inside + outside));

        double Excess(double radians) =>
            Math.Abs(AmplitudeAt(Angle.FromRadians(radians), wavenumberRadiansPerMetre, verticalPlane)) - target;
    }

    /// <summary>Returns the directivity index: the intensity on the boresight over that of a source that sends the same power
    /// evenly in all directions of the full sphere. [dB]</summary>
    /// <param name="wavenumberRadiansPerMetre">2π over the wavelength, above 0. [rad/m]</param>
    /// <remarks>Formula: <c>10·log₁₀(4π / ∫ D² dΩ)</c> by quadrature over the half space in front of the face; Kinsler, Frey,
    /// Coppens and Sanders, Fundamentals of Acoustics, 4th ed., §7.6 (from memory).</remarks>
    public virtual double DirectivityIndexDecibels(double wavenumberRadiansPerMetre)
    {
        // Midpoint rule in angle over the polar angle (weight sin θ), trapezoid over a quarter turn of azimuth.
        double step = Math.PI / 2 / QuadratureSteps;
        int azimuths = IsAxisymmetric ? 0 : AzimuthSteps;
        double integral = 0;
        for (int i = 0; i < QuadratureSteps; i++)
        {
            (double sine, double cosine) = Math.SinCos((i + 0.5) * step);
            double ring = 0;
            for (int j = 0; j <= azimuths; j++)
            {
                (double up, double left) = Math.SinCos(azimuths == 0 ? 0 : Math.PI / 2 * j / azimuths);
                double amplitude = Amplitude(new Vec3(cosine, sine * left, sine * up), wavenumberRadiansPerMetre);
                ring += amplitude * amplitude * (azimuths > 0 && (j == 0 || j == azimuths) ? 0.5 : 1);
            }

            integral += ring / Math.Max(azimuths, 1) * sine * step;
        }

        return Decibels.FromPowerRatio(2 / integral);
    }

    /// <summary>The angle between a unit direction and the boresight. [rad]</summary>
    private protected static double OffAxisRadians(Vec3 unitDirection) =>
        Math.Atan2(SineOffAxis(unitDirection), unitDirection.X);

    /// <summary>The sine of the angle between a unit direction and the boresight. [unitless]</summary>
    private protected static double SineOffAxis(Vec3 unitDirection) =>
        Math.Sqrt((unitDirection.Y * unitDirection.Y) + (unitDirection.Z * unitDirection.Z));

    /// <summary>Refuses a size that is not a positive length.</summary>
    private protected static double PositiveMetres(double metres, string name) =>
        metres is > 0 and <= 1
            ? metres
            : throw new ArgumentOutOfRangeException(name, $"{name} is {metres} m; it must be above 0 and at most 1 m.");
}
