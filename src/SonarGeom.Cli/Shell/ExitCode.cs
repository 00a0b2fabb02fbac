namespace SonarGeom.Cli.Shell;

/// <summary>What the process tells its caller at the end.</summary>
internal enum ExitCode
{
    /// <summary>Done.</summary>
    Done = 0,

    /// <summary>Done, and a requirement stated in the scenario does not hold.</summary>
    RequirementFailed = 1,

    /// <summary>An input file or the command line is wrong; nothing was written.</summary>
    BadInput = 2,

    /// <summary>The tool itself is at fault.</summary>
    OurFault = 3,

    /// <summary>Stopped by the user, by the custom of 128 and the number of the interrupt signal; nothing was written.</summary>
    Stopped = 130,
}
