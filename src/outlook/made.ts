import type { Catalog } from '../catalog/index.ts';
import { decodeCylinder, decodeTireCode } from '../codes/index.ts';
import { dayNumber } from '../dates/index.ts';
import type { PartState } from '../logbook/index.ts';
import { labelRange } from './evidence.ts';

/**
 * First and last day on which a part can have been made: from a date on record, from the code its kind carries, or from both, as far
 * apart as they say. Undefined where neither is on record, or what is there lies after `today` and was misread.
 */
export function madeRange(
  part: PartState,
  catalog: Catalog,
  today: string,
): { readonly from: number; readonly to: number } | undefined {
  const { madeOn } = part.fit.body;
  const said = madeOn === undefined ? undefined : labelRange(madeOn);
  const stamped = stampedRange(part, catalog, today);
  const range =
    said && stamped
      ? { from: Math.min(said.from, stamped.from), to: Math.max(said.to, stamped.to) }
      : (said ?? stamped);
  return range && range.from <= dayNumber(today) ? range : undefined;
}

/** First and last day by the code that a kind of part carries. */
function stampedRange(
  part: PartState,
  catalog: Catalog,
  today: string,
): { readonly from: number; readonly to: number } | undefined {
  const { code } = part.fit.body;
  if (!code) return undefined;
  switch (catalog.partKinds.get(part.kind)?.code) {
    case 'tire': {
      const decoded = decodeTireCode(code, today);
      if (!decoded.valid || decoded.from === null || decoded.to === null) return undefined;
      return { from: dayNumber(decoded.from), to: dayNumber(decoded.to) };
    }
    case 'cylinder': {
      const { made } = decodeCylinder(code, today);
      return made === null ? undefined : labelRange(made);
    }
    default:
      return undefined;
  }
}

/** The month through which the stamps on a cylinder let it be filled, as `2031-04`. */
export function stampedThrough(part: PartState, catalog: Catalog, today: string): string | undefined {
  const { code } = part.fit.body;
  if (!code || catalog.partKinds.get(part.kind)?.code !== 'cylinder') return undefined;
  return decodeCylinder(code, today).due ?? undefined;
}
