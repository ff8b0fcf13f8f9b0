import { layTitle } from "./combine-titles.js";
import { tidy } from "./plain-text.js";
import type { Line } from "./read-fields.js";
import { readTemperature } from "./read-temperature.js";
import { readSpecimenWidthIn } from "./specimen-width.js";
import type { Title } from "./title.js";
import type { TitleReader } from "./title-reader.js";

const NOTHING: Title = { rest: "" };
const DOUBTFUL: Title = { rest: "", doubtful: true };

/**
 * What the lines above a block say of all its values: "Impact test, weld metal, -196 °C", "Direction: transverse".
 * A heading holds until the next heading that names a group of tests; a block uses up its headings' temperature and analysis.
 */
export function gatherSurroundings(
  tableName: string,
  lines: readonly Line[],
  titles: TitleReader,
  before: readonly number[],
): Title {
  let fromFields: Title = fromName(titles.read(tableName));
  let fromHeadings: Title = NOTHING;
  let lastBlock = 0;
  for (const line of lines) {
    while (lastBlock < before.length && before[lastBlock]! < line.row) {
      fromHeadings = afterBlock(fromHeadings);
      lastBlock += 1;
    }
    if (line.field) fromFields = layTitle(fromFields, readField(line.field, titles));
    if (line.heading) fromHeadings = nextHeading(fromHeadings, line.heading.title);
  }
  if (lastBlock < before.length) fromHeadings = afterBlock(fromHeadings);
  return { ...layTitle(fromFields, fromHeadings), rest: "" };
}

/** A sheet called "HAZ" or "Impact -196 °C" says so of all its results. */
function fromName(title: Title): Title {
  return title.rest === "" ? nextHeading(NOTHING, { ...title, group: "impact" }) : NOTHING;
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

/** What a field says of the results below it; `doubtful` where it speaks of place or temperature and is not understood. */
export function readField({ name, statement, title }: NonNullable<Line["field"]>, titles: TitleReader): Title {
  const { value } = statement;
  const text = tidy(value);
  switch (name) {
    case "temperature": {
      const temperature = readTemperature(text, title.unit);
      return temperature ? { rest: "", temperature } : DOUBTFUL;
    }
    case "zone": {
      const { zone } = titles.read(value);
      return zone ? { rest: "", zone, location: text.toLowerCase() } : DOUBTFUL;
    }
    case "orientation": {
      const { orientation } = titles.read(value);
      return orientation ? { rest: "", orientation } : DOUBTFUL;
    }
    case "specimen": {
      const read = readSpecimenWidthIn(text);
      return read ? { rest: "", specimenWidth: read.width } : NOTHING;
    }
    case "analysis": {
      const { analysis } = titles.read(value);
      return analysis ? { rest: "", analysis } : DOUBTFUL;
    }
    // "Test method | ISO 148-1, Charpy V, striker 8 mm".
    case "other": {
      const { striker } = titles.read(value);
      return striker ? { rest: "", striker } : NOTHING;
    }
    default:
      return NOTHING;
  }
}
