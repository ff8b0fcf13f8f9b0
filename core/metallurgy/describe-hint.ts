import { formatDecimal } from "../quantity/decimal.js";
import { roundHalfEven } from "../quantity/round.js";
import type { Hint, MartensiteHint, SensitisationHint } from "./weldability.js";

/** A hint in plain sentences: what it says, then what it rests on. */
export function describeHint(hint: Hint): { readonly message: string; readonly restsOn: string } {
  switch (hint.code) {
    case "sensitisation":
      return describeSensitisation(hint);
    case "martensite":
      return describeMartensite(hint);
    case "solidification":
      return {
        message: `Without filler this heat solidifies as primary ${hint.primary} (Creq/Nieq ${formatDecimal(roundHalfEven(hint.ratio, 2))})${hint.primary === "austenite" ? ": mind hot cracking" : ""}.`,
        restsOn: "Equivalents of Hammar and Svensson 1979; the threshold of about 1.55 is recalled.",
      };
  }
}

const CONCERNS: Readonly<Record<SensitisationHint["concern"], string>> = {
  stabilised: "is bound by titanium or niobium: little risk of sensitisation",
  low: "is within the 0.030 % of low-carbon grades: sensitisation is unlikely in ordinary as-welded joints",
  raised:
    "is above the 0.030 % of low-carbon grades: heavy sections and repeated passes can sensitise the heat-affected zone",
  high: "is high: expect sensitisation beside welds",
};

function describeSensitisation({ concern, carbonPercent }: SensitisationHint) {
  return {
    message: `Carbon ${formatDecimal(carbonPercent)} % ${CONCERNS[concern]}.`,
    restsOn:
      "Sensitisation happens between about 425 and 815 °C and takes much longer the lower the carbon; " +
      "no table of times is used.",
  };
}

const TENDENCIES: Readonly<Record<MartensiteHint["tendency"], string>> = {
  "at room temperature": "forms under strain at room temperature already, as in type 301",
  expected: "forms under strain",
  possible: "may form under strain: the two formulas disagree",
  unlikely: "is unlikely to form under strain",
};

function describeMartensite({ tendency, serviceTemperatureC, md30C, onCooling }: MartensiteHint) {
  const angel = formatDecimal(roundHalfEven(md30C.angel, 0));
  const nohara = formatDecimal(roundHalfEven(md30C.nohara, 0));
  const cooling =
    onCooling === "likely" ? " Ms by Eichelmann and Hull is above 0 °C: it forms on cooling as well." : "";
  return {
    message: `At ${formatDecimal(serviceTemperatureC)} °C martensite ${TENDENCIES[tendency]} (Md30 ${angel} °C by Angel, ${nohara} °C by Nohara).${cooling}`,
    restsOn:
      "Md30 is where a true strain of 0.30 turns half of the austenite; Angel 1954, and Nohara 1977 at grain size 8. " +
      "Welds and cold work differ from the wrought metal that the formulas describe.",
  };
}
