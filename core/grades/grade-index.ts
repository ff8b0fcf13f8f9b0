import { designationKey, keyWithoutDelivery } from "./designation.js";
import type { Library, LibraryGrade } from "./grade.js";
import { mayBe, parseStandardName } from "./standard-name.js";

/** A library sorted for look-up: keys are made once, for a batch of heats asks for the same few grades over and over. */
export interface GradeIndex {
  /** Grades that a designation names, in one standard or in all. */
  named(designation: string, standardKey?: string): readonly LibraryGrade[];
  /** Grades of a standard that have a designation one character away. */
  alike(designation: string, standardKey?: string): readonly LibraryGrade[];
}

const indexes = new WeakMap<Library, GradeIndex>();

export function gradeIndex(library: Library): GradeIndex {
  const known = indexes.get(library);
  if (known) return known;
  const index = buildIndex(library);
  indexes.set(library, index);
  return index;
}

interface Entry {
  readonly grade: LibraryGrade;
  readonly standardKey: string;
}

function buildIndex(library: Library): GradeIndex {
  const byKey = new Map<string, Entry[]>();
  for (const grade of library.grades) {
    // A user's own standard may have a name that no pattern knows: it is then looked up by exactly that name.
    const entry = { grade, standardKey: parseStandardName(grade.grade.standard)?.key ?? grade.grade.standard };
    for (const key of new Set(grade.grade.designations.map(designationKey))) {
      byKey.set(key, [...(byKey.get(key) ?? []), entry]);
    }
  }
  const inStandard = (entries: readonly Entry[], standardKey?: string): LibraryGrade[] =>
    entries
      .filter((entry) => standardKey === undefined || mayBe(standardKey, entry.standardKey))
      .map(({ grade }) => grade);

  const named: GradeIndex["named"] = (designation, standardKey) => {
    const key = designationKey(designation);
    const exact = inStandard(byKey.get(key) ?? [], standardKey);
    const plain = keyWithoutDelivery(key);
    return exact.length > 0 || plain === undefined ? exact : inStandard(byKey.get(plain) ?? [], standardKey);
  };
  const alike: GradeIndex["alike"] = (designation, standardKey) => {
    const wanted = designationKey(designation);
    const near = [...byKey].filter(([key]) => differsByOne(key, wanted)).flatMap(([, entries]) => entries);
    return [...new Set(inStandard(near, standardKey))];
  };
  return { named, alike };
}

/** One character put in, left out or mistaken. */
function differsByOne(left: string, right: string): boolean {
  if (left.length > right.length) return differsByOne(right, left);
  if (right.length - left.length > 1) return false;
  let same = 0;
  while (same < left.length && left[same] === right[same]) same += 1;
  return left.slice(left.length === right.length ? same + 1 : same) === right.slice(same + 1);
}
