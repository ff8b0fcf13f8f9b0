import { layTitle } from "./combine-titles.js";
import { tidy } from "./plain-text.js";
import type { Line } from "./read-fields.js";
import { readTemperature } from "./read-temperature.js";
import { readSpecimenWidthIn } from "./specimen-width.js";
import type { Title } from "./title.js";
import type { TitleReader } from "./title-reader.js";

const NOTHING: Title = { rest: "" };

/**
 * What the lines above a block say of all its values: "Impact test, weld metal, -196 °C", "Direction: transverse".
 * A heading holds until the next heading that names a group of tests; a block uses up its headings' temperature and analysis.
 */
export function gatherSurroundings(lines: readonly Line[], titles: TitleReader, before: readonly number[]): Title {
  let fromFields: Title = NOTHING;
  let fromHeadings: Title = NOTHING;
  let lastBlock = 0;
  for (const line of lines) {
    while (lastBlock < before.length && before[lastBlock]! < line.row) {
      fromHeadings = afterBlock(fromHeadings);
      lastBlock += 1;
    }
    if (line.field)
      fromFields = layTitle(
        fromFields,
        readField(line.field.name, line.field.statement.value, line.field.title, titles),
      );
    if (line.heading) fromHeadings = nextHeading(fromHeadings, line.heading.title);
  }
  if (lastBlock < before.length) fromHeadings = afterBlock(fromHeadings);
  return { ...layTitle(fromFields, fromHeadings), rest: "" };
}

function afterBlock(title: Title): Title {
  const { zone, location } = title;
  return { rest: "", ...(zone && { zone }), ...(location && { location }) };
}

/** A heading is understood when all its words are, or when it names a group of tests. */
function nextHeading(current: Title, heading: Title): Title {
  if (heading.rest !== "" && !heading.group) return current;
  const { zone, location, temperature, orientation, specimenWidth, analysis, striker, retest, group } = heading;
  const said: Title = {
    rest: "",
    ...(zone && { zone }),
    ...(location && { location }),
    ...(temperature && { temperature }),
    ...(orientation && { orientation }),
    ...(specimenWidth && { specimenWidth }),
    ...(analysis && { analysis }),
    ...(striker && { striker }),
    ...(retest && { retest }),
  };
  return group ? said : layTitle(current, said);
}

function readField(field: string, value: string, title: Title, titles: TitleReader): Title {
  const text = tidy(value);
  switch (field) {
    case "temperature": {
      const temperature = readTemperature(text, title.unit);
      return temperature ? { rest: "", temperature } : NOTHING;
    }
    case "zone": {
      const { zone, location, rest } = titles.read(value);
      return zone && rest === "" ? { rest: "", zone, ...(location && { location }) } : NOTHING;
    }
    case "orientation": {
      const { orientation, rest } = titles.read(value);
      return orientation && rest === "" ? { rest: "", orientation } : NOTHING;
    }
    case "specimen": {
      const read = readSpecimenWidthIn(text);
      return read ? { rest: "", specimenWidth: read.width } : NOTHING;
    }
    case "analysis": {
      const { analysis } = titles.read(value);
      return analysis ? { rest: "", analysis } : NOTHING;
    }
    default:
      return NOTHING;
  }
}
