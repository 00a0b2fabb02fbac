using System.Text.Json;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Commands;

/// <summary>Every command that answers a question answers it in JSON too: one object, numbers with their units, nothing else printed.</summary>
public sealed class JsonAnswerTests : IDisposable
{
    private readonly Workbench _bench = new();

    public void Dispose() => _bench.Dispose();

    [Theory]
    [InlineData("air", "air_table")]
    [InlineData("body", "body")]
    [InlineData("catalogue", "catalogue")]
    [InlineData("transducer heron-strong-40", "transducer")]
    [InlineData("echo --kind wall --x-m 3 --width-m 2 --height-m 2 --sensor-z-m 1.2 --integral", "echo")]
    [InlineData("explain SCENARIO --obstacle lamp-column", "explanation")]
    [InlineData("explain SCENARIO --z-m 1.6 --probe rod-25mm", "explanation")]
    [InlineData("map SCENARIO --output OUT", "approach_map")]
    [InlineData("slice SCENARIO --cell-m 0.1 --output OUT", "margin_slice")]
    [InlineData("trace SCENARIO --obstacle lamp-column --output OUT", "level_trace")]
    [InlineData("walk-up SCENARIO --from-m 2 --step-m 0.5 --output OUT", "walk_up")]
    [InlineData("false-alerts SCENARIO --output OUT", "false_alerts")]
    [InlineData("engines SCENARIO --obstacle street-bollard", "engines")]
    [InlineData("compare SCENARIO-LAYOUTS --output OUT", "comparison")]
    [InlineData("head-review SCENARIO --output OUT", "head_review")]
    [InlineData("firmware SCENARIO --output OUT", "firmware")]
    [InlineData("exposure SCENARIO", "exposure")]
    [InlineData("field-test plan linnet-wide-40 --output OUT", "field_test_plan")]
    [InlineData("trials SCENARIO --walks 2 --output OUT", "trials")]
    [InlineData("stride SCENARIO --moments 8 --output OUT", "stride")]
    [InlineData("check SCENARIO", "check")]
    [InlineData("SCENARIO --output OUT", "study_summary")]
    public void IsOneObjectWithUnits(string line, string result)
    {
        string scenario = _bench.QuickScenario();
        string[] arguments =
        [
            .. line.Replace("SCENARIO-LAYOUTS", "brow-only single-chest --scenario SCENARIO", StringComparison.Ordinal).Split(' ')
                .Select(w => w == "SCENARIO" ? scenario : w == "OUT" ? _bench.At("out") : w),
            "--json",
        ];
        ToolAnswer answer = Workbench.Run(arguments);
        Assert.Equal((ExitCode.Done, string.Empty), (answer.Code, answer.Error));
        JsonElement json = answer.Json;
        Assert.Equal("sonargeom", json.GetProperty("tool").GetString());
        Assert.Equal(Tool.Version, json.GetProperty("version").GetString());
        Assert.Equal(result, json.GetProperty("result").GetString());
        UnitNames.Check(json);
    }

    [Theory]
    [InlineData("body --csv", "landmark,")]
    [InlineData("catalogue --csv", "kind,name,description")]
    [InlineData("transducer heron-strong-40 --csv", "off_axis_deg,")]
    [InlineData("explain SCENARIO --obstacle lamp-column --csv", "distance_m,sensor,")]
    [InlineData("map SCENARIO --output OUT --csv", "y_m,z_m,")]
    [InlineData("slice SCENARIO --cell-m 0.1 --output OUT --csv", "x_m,y_m,z_m,margin_db")]
    [InlineData("trace SCENARIO --sensor brow --output OUT --csv", "range_m,source,level_db_re_20upa")]
    [InlineData("walk-up SCENARIO --from-m 2 --step-m 0.5 --output OUT --csv", "object,object_kind,distance_m,")]
    [InlineData("false-alerts SCENARIO --output OUT --csv", "sensor,ground,tilt_deg,margin_db,")]
    [InlineData("engines SCENARIO --obstacle street-bollard --csv", "obstacle,part,sensor,")]
    [InlineData("compare brow-only single-chest --scenario SCENARIO --output OUT --csv", "layout,probe,band,")]
    [InlineData("head-review SCENARIO --output OUT --csv", "rank,wearer_role,")]
    [InlineData("exposure SCENARIO --csv", "listener,place,")]
    [InlineData("firmware SCENARIO --output OUT --csv", "name,sensor,at,value,unit,reason")]
    public void TablesComeAsCommaSeparatedValues(string line, string header)
    {
        string scenario = _bench.QuickScenario();
        ToolAnswer answer = Workbench.Run([.. line.Split(' ').Select(w => w == "SCENARIO" ? scenario : w == "OUT" ? _bench.At("out") : w)]);
        Assert.Equal((ExitCode.Done, string.Empty), (answer.Code, answer.Error));
        string[] rows = answer.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.StartsWith(header, rows[0], StringComparison.Ordinal);
        Assert.True(rows.Length > 1);
        int commas = rows[0].Count(c => c == ',');
        Assert.All(rows.Where(r => !r.Contains('"')), r => Assert.Equal(commas, r.Count(c => c == ',')));
    }
}
