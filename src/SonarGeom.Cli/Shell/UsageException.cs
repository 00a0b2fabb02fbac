namespace SonarGeom.Cli.Shell;

/// <summary>The command line asks for something that cannot be done; the message is one sentence for the user.</summary>
internal sealed class UsageException(string sentence) : Exception(sentence);
