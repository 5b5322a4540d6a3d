/** Reading a published table between its rows. */

/** Rows of a table, x rising. */
export type Curve = readonly (readonly [x: number, y: number])[];

/** Straight lines between the rows, held at both ends. */
export function along(curve: Curve, x: number): number {
  if (x <= curve[0]![0]) return curve[0]![1];
  for (let i = 1; i < curve.length; i++) {
    if (x <= curve[i]![0]) return line(curve[i - 1]!, curve[i]!, x);
  }
  return curve.at(-1)![1];
}

type Point = Curve[number];

function line([x0, y0]: Point, [x1, y1]: Point, x: number): number {
  return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
}

/**
 * The highest value that a falling curve which bends downward can have between its rows: below the lines through the neighboring
 * pairs, never below the straight line, never above the row before. Held at both ends.
 */
export function atMostAlong(curve: Curve, x: number): number {
  const i = curve.findIndex(([end]) => x <= end);
  if (i === 0) return curve[0]![1];
  if (i < 0) return curve.at(-1)![1];
  const chord = line(curve[i - 1]!, curve[i]!, x);
  const before = i >= 2 ? line(curve[i - 2]!, curve[i - 1]!, x) : Number.POSITIVE_INFINITY;
  const after = i + 1 < curve.length ? line(curve[i]!, curve[i + 1]!, x) : Number.POSITIVE_INFINITY;
  return Math.max(chord, Math.min(before, after, curve[i - 1]![1]));
}
