using System.Collections.Immutable;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tests.Shapes;

public sealed class ReaderTests
{
    [Fact]
    public void CommentsAndTrailingCommasAreRead()
    {
        PlantKind.Plant plant = PlantKind.Read("""
            // a plant
            {
              "$schema": "plant.schema.json",
              "name": "oak", /* tall */
              "height_m": 12.5,
              "leaf": "broad_leaf",
            }
            """);
        Assert.Equal("oak", plant.Name);
        Assert.Equal(12.5, plant.Height);
        Assert.Equal(3, plant.Leaves);
        Assert.Null(plant.Wet);
    }

    [Fact]
    public void ValuesAtBothEndsOfARangeAreReadAndJustPastThemRefused()
    {
        Assert.Equal(-90, PlantKind.Read("""{"name":"a","tilt_deg":-90}""").Tilt);
        Assert.Equal(90, PlantKind.Read("""{"name":"a","tilt_deg":90}""").Tilt);
        Assert.Equal("tilt_deg is -90.0001; it must be from -90 to 90.", PlantKind.FaultOf("""{"name":"a","tilt_deg":-90.0001}""").Message);
        Assert.Equal("tilt_deg is 90.0001; it must be from -90 to 90.", PlantKind.FaultOf("""{"name":"a","tilt_deg":90.0001}""").Message);
        Assert.Equal("height_m is 0; it must be above 0 and at most 100.", PlantKind.FaultOf("""{"name":"a","height_m":0}""").Message);
        Assert.Equal(100, PlantKind.Read("""{"name":"a","height_m":100}""").Height);
    }

    [Fact]
    public void AFaultNamesFileLineAndColumnOfTheValue()
    {
        Fault fault = PlantKind.FaultOf("{\n  \"name\": \"öak\",   \"tilt_deg\": 95\n}");
        Assert.Equal("plant.json:2:32: tilt_deg is 95; it must be from -90 to 90.", fault.ToString());
        Assert.Equal("tilt_deg", fault.Field);
    }

    [Theory]
    [InlineData("""{"name":"a","tilt_degs":3}""", "tilt_degs is not known in a plant; did you mean tilt_deg?")]
    [InlineData("""{"name":"a","Tilt-Deg":3}""", "Tilt-Deg is not known in a plant; did you mean tilt_deg?")]
    [InlineData("""{"name":"a","zzzzzzzz":3}""", "zzzzzzzz is not known in a plant; known are name, height_m, tilt_deg, leaves, evergreen, leaf, offset_m, wet_mm, dry_mm, neighbours.")]
    [InlineData("""{"name":"a","tilt_deg":1,"tilt_deg":2}""", "tilt_deg is given twice, first in line 1; keep one of them.")]
    [InlineData("""{"height_m":1}""", "name is missing; it must be a text of 1 to 20 characters, not blank.")]
    [InlineData("""{"name":"a","tilt_deg":"3"}""", "tilt_deg is \"3\"; it must be a number from -90 to 90.")]
    [InlineData("""{"name":"a","tilt_deg":null}""", "tilt_deg is null; it must be a number from -90 to 90.")]
    [InlineData("""{"name":"a","tilt_deg":{}}""", "tilt_deg is an object {…}; it must be a number from -90 to 90.")]
    [InlineData("""{"name":"a","tilt_deg":1e999}""", "tilt_deg is 1e999; it must be from -90 to 90.")]
    [InlineData("""{"name":"a","tilt_deg":NaN}""", "tilt_deg is NaN; it must be a finite number.")]
    [InlineData("""{"name":"a","tilt_deg":Infinity}""", "tilt_deg is Infinity; it must be a finite number.")]
    [InlineData("""{"name":"a","tilt_deg":-Infinity}""", "tilt_deg is -Infinity; it must be a finite number.")]
    [InlineData("""{"name":"a","offset_m":[1,2,nan]}""", "offset_m is nan; it must be a finite number.")]
    [InlineData("""{"name":"a","leaves":2.5}""", "leaves is 2.5; it must be a whole number from 0 to 1000.")]
    [InlineData("""{"name":"a","evergreen":"yes"}""", "evergreen is \"yes\"; it must be true or false.")]
    [InlineData("""{"name":"a","leaf":"needel"}""", "leaf is \"needel\"; it must be one of needle, broad_leaf; did you mean needle?")]
    [InlineData("""{"name":"a","leaf":1}""", "leaf is 1; it must be one of needle, broad_leaf.")]
    [InlineData("""{"name":"a","offset_m":[1,2]}""", "offset_m has 2 values; it must have 3.")]
    [InlineData("""{"name":"a","offset_m":[1,2,9]}""", "offset_m[2] is 9; it must be from -5 to 5.")]
    [InlineData("""{"name":"   "}""", "name is \"   \"; it must be a text of 1 to 20 characters, not blank.")]
    [InlineData("""{"name":"a\u0007"}""", "name holds a control character; it must be a text of 1 to 20 characters, not blank.")]
    [InlineData("""{"name":"a","wet_mm":1,"dry_mm":2}""", "wet_mm and dry_mm are given together; at most one of wet_mm and dry_mm must be given.")]
    [InlineData("""{"name":"a","height_m":11,"leaf":"needle"}""", "height_m is too much for a needle leaf; it must be at most 10.")]
    [InlineData("""{"name":"nettle"}""", "the document cannot be used: Nettles sting.")]
    [InlineData("""{"name":"a","neighbours":[{"height_m":2}]}""", "name is missing in neighbours[0]; it must be a text of 1 to 20 characters, not blank.")]
    [InlineData("[1]", "the document is a list […]; it must be an object {…} that describes a plant.")]
    [InlineData("3", "the document is 3; it must be an object {…} that describes a plant.")]
    [InlineData("// nothing", "The file holds no value, only comments or blanks; it must hold a JSON object.")]
    [InlineData("""{"name":"a" "tilt_deg":3}""", "This is not JSON here: something else than what belongs in this place; look for a comma, colon, quotation mark or bracket that is missing or too many just before it.")]
    [InlineData("""{"name":"a","neighbours":[{"name":"b" """, "The file ends too early: the object begun in line 1 is not closed; is the file cut off?")]
    [InlineData("""{"name":"\ud800"}""", "The text holds an escape for half a character; write the character itself in UTF-8.")]
    public void EachWrongThingIsOneSentence(string text, string message)
    {
        Fault fault = PlantKind.FaultOf(text);
        Assert.Equal(message, fault.Message);
        Assert.Equal("plant.json", fault.File);
        Assert.True(fault.Line >= 1 && fault.Column >= 1, fault.ToString());
    }

    [Fact]
    public void AllFaultsOfAFileAreToldAtOnceInTheOrderOfItsLines()
    {
        ImmutableArray<Fault> faults = PlantKind.FaultsOf("{\n\"leaf\": \"x\",\n\"tilt_deg\": 95,\n\"colour\": 3,\n\"neighbours\": [\n{\"name\":\"b\",\"leaves\":-1}]}");
        Assert.Equal(
            ["name", "leaf", "tilt_deg", "colour", "leaves"],
            faults.Select(f => f.Message.Split(' ')[0]));
        Assert.Equal([1, 2, 3, 4, 6], faults.Select(f => f.Line));
        Assert.Equal("neighbours[0].leaves", faults[^1].Field);
    }

    [Fact]
    public void BeyondAHundredFaultsOnlyTheirNumberIsTold()
    {
        string many = string.Join(',', Enumerable.Range(0, 250).Select(i => $"\"x{i}\": 1"));
        ImmutableArray<Fault> faults = PlantKind.FaultsOf($"{{\"name\": \"a\", {many}}}");
        Assert.Equal(101, faults.Length);
        Assert.Equal("There are at least 150 faults more; mend these first.", faults[^1].Message);
    }

    [Fact]
    public void NestingBeyondReasonIsRefused()
    {
        Fault fault = PlantKind.FaultOf(new string('[', 100) + new string(']', 100));
        Assert.Equal("Objects and lists are nested deeper than 64 here; no deeper nesting is read.", fault.Message);
    }

    [Fact]
    public void MillionsOfValuesAreRefused()
    {
        Fault fault = PlantKind.FaultOf($"{{\"name\": \"a\", \"offset_m\": [{string.Join(',', Enumerable.Repeat('0', 1_000_001))}]}}");
        Assert.Equal("The document holds more than 1 000 000 values; no larger one is read.", fault.Message);
    }

    [Fact]
    public void ManyFaultsInOneLongLineAreToldWithLittleMemory()
    {
        string twice = string.Join(',', Enumerable.Repeat("\"name\":1", 400_000));
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(101, PlantKind.FaultsOf($"{{{twice}}}").Length);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 600_000_000);
    }
}
