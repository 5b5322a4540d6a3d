/** A matrix by columns, factored: X = Q R with Q kept as reflections. */
export interface Householder {
  readonly rows: number;
  readonly count: number;
  /** R above the diagonal, by columns; the reflections' vectors below and on it. */
  readonly columns: readonly Float64Array[];
  /** The diagonal of R. */
  readonly diagonal: Float64Array;
}

/**
 * QR by Householder reflections (G. H. Golub, Numer. Math. 7, 1965). The columns are copied.
 *
 * @returns undefined when a column is, to rounding, a combination of those before it
 */
export function householder(source: readonly Float64Array[]): Householder | undefined {
  const rows = source[0]!.length;
  const columns = source.map((column) => Float64Array.from(column));
  const diagonal = new Float64Array(columns.length);
  for (let k = 0; k < columns.length; k++) {
    const column = columns[k]!;
    const whole = norm(source[k]!);
    const rest = norm(column, k);
    if (!(rest > whole * rows * 2 ** -52)) return undefined;
    // The sign that does not cancel.
    const target = column[k]! > 0 ? -rest : rest;
    diagonal[k] = target;
    column[k]! -= target;
    // Scaled so that the reflection is x − v (v·x), v·v = 2.
    const scale = Math.SQRT2 / norm(column, k);
    for (let i = k; i < rows; i++) column[i]! *= scale;
    for (let j = k + 1; j < columns.length; j++) reflect(column, k, columns[j]!);
  }
  return { rows, count: columns.length, columns, diagonal };
}

/** Qᵀ v, in place. */
export function applyTransposed(qr: Householder, v: Float64Array): Float64Array {
  for (let k = 0; k < qr.count; k++) reflect(qr.columns[k]!, k, v);
  return v;
}

/** Q v, in place. */
export function apply(qr: Householder, v: Float64Array): Float64Array {
  for (let k = qr.count - 1; k >= 0; k--) reflect(qr.columns[k]!, k, v);
  return v;
}

/** R⁻¹ of the first `count` entries of v. */
export function solveUpper(qr: Householder, v: Float64Array): Float64Array {
  const x = v.slice(0, qr.count);
  for (let k = qr.count - 1; k >= 0; k--) {
    x[k]! /= qr.diagonal[k]!;
    for (let i = 0; i < k; i++) x[i]! -= qr.columns[k]![i]! * x[k]!;
  }
  return x;
}

/** R⁻ᵀ of the first `count` entries of v. */
export function solveUpperTransposed(qr: Householder, v: Float64Array): Float64Array {
  const x = v.slice(0, qr.count);
  for (let k = 0; k < qr.count; k++) {
    for (let i = 0; i < k; i++) x[k]! -= qr.columns[k]![i]! * x[i]!;
    x[k]! /= qr.diagonal[k]!;
  }
  return x;
}

function reflect(vector: Float64Array, start: number, target: Float64Array): void {
  let dot = 0;
  for (let i = start; i < vector.length; i++) dot += vector[i]! * target[i]!;
  for (let i = start; i < vector.length; i++) target[i]! -= dot * vector[i]!;
}

/** The length of v from `start` on; its squares must stay within the range of a double. */
export function norm(v: Float64Array, start = 0): number {
  let sum = 0;
  for (let i = start; i < v.length; i++) sum += v[i]! * v[i]!;
  return Math.sqrt(sum);
}
