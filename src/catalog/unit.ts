import { type Problem, problemText } from '../problem/index.ts';
import { type Dimension, dimensionOf, parseUnit } from '../quantity/index.ts';

/** A Problem if a unit's spelling is not known. */
export function unitProblem(owner: string, field: string, unit: string, where: string): Problem[] {
  const read = parseUnit(unit);
  if (read.ok) return [];
  return [
    {
      code: 'catalog.unit-wrong',
      what: `${owner}: \`${field}\`: ${problemText(read.problems[0]!)}`,
      where,
      expected: 'a unit we know',
    },
  ];
}

/** What a unit measures, if it is known. */
export function dimensionOfUnit(unit: string): Dimension | undefined {
  const read = parseUnit(unit);
  return read.ok ? dimensionOf(read.value) : undefined;
}
