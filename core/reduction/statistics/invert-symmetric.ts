/** A pivot below this share of its scaled column says that two parameters cannot be told apart. */
const SINGULAR = 1e-14;

/**
 * Inverse of a small symmetric positive matrix by Gauss and Jordan; undefined where it is singular. Rows and columns are scaled to a
 * diagonal of ones first: parameters of a curve differ in size by many powers of ten.
 */
export function invertSymmetric(matrix: readonly (readonly number[])[]): number[][] | undefined {
  const size = matrix.length;
  const scale = matrix.map((row, i) => Math.sqrt(row[i]!));
  if (scale.some((value) => !(value > 0))) return undefined;
  const rows = matrix.map((row, i) => [
    ...row.map((value, j) => value / (scale[i]! * scale[j]!)),
    ...row.map((_, j) => (i === j ? 1 : 0)),
  ]);
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    const top = rows[column]!;
    const divisor = top[column]!;
    if (!(Math.abs(divisor) > SINGULAR)) return undefined;
    for (let k = 0; k < top.length; k++) top[k] = top[k]! / divisor;
    for (const [row, values] of rows.entries()) {
      const factor = row === column ? 0 : values[column]!;
      for (let k = 0; factor !== 0 && k < values.length; k++) values[k] = values[k]! - factor * top[k]!;
    }
  }
  return rows.map((row, i) => row.slice(size).map((value, j) => value / (scale[i]! * scale[j]!)));
}
