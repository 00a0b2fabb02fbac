using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>The echo of one part at the receiver.</summary>
/// <param name="BandLevelDecibels">
/// Level of the band mean over the burst, rms at its peak, burst build-up included; −300 when nothing returns. [dB re 20 µPa]
/// </param>
/// <param name="CentreLevelDecibels">The same at the nominal frequency alone. [dB re 20 µPa]</param>
/// <param name="RangeMetres">Half the path of the dominant return: what a range finder would report. [m]</param>
/// <param name="GlintMetres">The point from which the dominant return comes. [m]</param>
/// <param name="TransmitAmplitude">Beam of the transmitter towards that point, nominal frequency, signed. [unitless]</param>
/// <param name="ReceiveAmplitude">Beam of the receiver towards that point, nominal frequency, signed. [unitless]</param>
/// <param name="IsSpecular">Whether the dominant return is a mirror reflection inside the part, not its edge or end.</param>
public readonly record struct PartEcho(
    double BandLevelDecibels, double CentreLevelDecibels, double RangeMetres, Vec3 GlintMetres,
    double TransmitAmplitude, double ReceiveAmplitude, bool IsSpecular)
{
    /// <summary>The level that stands for no echo at all. [dB re 20 µPa]</summary>
    public const double SilentDecibels = -300;

    /// <summary>Gets whether nothing returns.</summary>
    public bool IsSilent => BandLevelDecibels <= SilentDecibels;
}

/// <summary>The band-mean echo of one part: what maps need.</summary>
/// <param name="LevelDecibels">As <see cref="PartEcho.BandLevelDecibels"/>. [dB re 20 µPa]</param>
/// <param name="RangeMetres">Half the path of the dominant return. [m]</param>
public readonly record struct BandEcho(double LevelDecibels, double RangeMetres);
