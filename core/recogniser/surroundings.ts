import { CONFIDENCE_THRESHOLD } from "../certificate/certificate.js";
import type { Cell } from "./cells.js";
import { layTitle } from "./combine-titles.js";
import { tidy } from "./plain-text.js";
import type { Line } from "./read-fields.js";
import { readTemperature } from "./read-temperature.js";
import { isOfOtherMetal } from "./reservations.js";
import { readSpecimenWidthIn } from "./specimen-width.js";
import type { Title } from "./title.js";
import type { TitleReader } from "./title-reader.js";

const NOTHING: Title = { rest: "" };
const DOUBTFUL: Title = { rest: "", doubtful: true };

/** What has been said so far of the results to come: by fields, which hold on, and by headings, which wear off. */
export interface Surroundings {
  readonly fields: Title;
  readonly headings: Title;
  /** A block has been read under the place that the headings name. */
  readonly isPlaceUsed?: boolean;
  /** A block has been read. */
  readonly hasResults?: boolean;
  /** The line that says that what follows is of other metal, or told and not certified. */
  readonly ofOther?: Cell;
}

export function beginSurroundings(tableName: string, titles: TitleReader): Surroundings {
  return { fields: fromName(titles.read(tableName)), headings: NOTHING };
}

/**
 * Takes in one more line: "Impact test, weld metal, -196 °C", "Direction: transverse". A heading holds until the next one that
 * names a group of tests.
 */
export function hearLine(before: Surroundings, line: Line, titles: TitleReader): Surroundings {
  const said = hearOfOther(before, line);
  if (line.field) return { ...said, fields: layTitle(said.fields, readField(line.field, titles)) };
  if (!line.heading) return said;
  const { title } = line.heading;
  const headings = nextHeading(said.headings, title);
  if (headings === said.headings) {
    const isMisheard = title.rest !== "" && line.heading.cell.confidence < CONFIDENCE_THRESHOLD;
    return isMisheard ? { ...said, headings: { ...headings, misheard: true } } : said;
  }
  if (title.zone) return { ...said, headings, isPlaceUsed: false };
  if (said.isPlaceUsed) return { ...said, headings };
  // "Weld metal" and under it "Impact test": both head what follows.
  const { zone, location } = said.headings;
  return { ...said, headings: { ...(zone && { zone }), ...(location && { location }), ...headings } };
}

/** "Results of earlier deliveries" holds to the next heading of results; before any results, for the whole paper. */
function hearOfOther(said: Surroundings, { field, heading }: Line): Surroundings {
  if (heading && isOfOtherMetal(heading.cell.text)) return { ...said, ofOther: heading.cell };
  const isOver = said.hasResults && (field?.name === "heat" || heading?.title.group !== undefined);
  if (!said.ofOther || !isOver) return said;
  const { ofOther: _ofOther, ...rest } = said;
  return rest;
}

/** A block uses up what headings said of temperature and analysis; the place they named holds on. */
export function leaveBlock({ fields, headings, hasResults, ofOther }: Surroundings): Surroundings {
  const { zone, location } = headings;
  return {
    fields,
    headings: { rest: "", ...(zone && { zone }), ...(location && { location }) },
    isPlaceUsed: true,
    ...(ofOther ? { ofOther, ...(hasResults && { hasResults }) } : { hasResults: true }),
  };
}

export function surroundingTitle({ fields, headings }: Surroundings): Title {
  return { ...layTitle(fields, headings), rest: "" };
}

/** A sheet called "HAZ" or "Impact -196 °C" says so of all its results. */
function fromName(title: Title): Title {
  return title.rest === "" ? nextHeading(NOTHING, { ...title, group: "impact" }) : NOTHING;
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
