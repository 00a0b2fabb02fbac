namespace SonarGeom.Files.Shapes;

/// <summary>Turns what the model says of a refused value into one sentence.</summary>
internal static class Sentences
{
    /// <summary>Returns the first line of the message, without the name of the parameter behind it.</summary>
    internal static string Of(ArgumentException refusal)
    {
        string message = refusal.Message;
        int parameter = message.IndexOf(" (Parameter '", StringComparison.Ordinal);
        if (parameter >= 0)
        {
            message = message[..parameter];
        }

        message = message.Split('\n')[0].Trim();
        return message.EndsWith('.') ? message : $"{message}.";
    }
}
