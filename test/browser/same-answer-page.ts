import files from 'virtual:catalog-files';
import { loadCatalog } from '../../src/catalog/index.ts';
import { foldEntries, readEntries } from '../../src/logbook/index.ts';
import { lookAhead } from '../../src/outlook/index.ts';
import { makePlan } from '../../src/plan/index.ts';
import { unwrap } from '../../src/problem/index.ts';

/** What is worked out of one logbook: what is told, and each number behind it, to the last bit. */
export interface Worked {
  /** The outlook as JSON. */
  readonly outlook: string;
  /** The moment each upkeep runs out, path by path, and as it would after work on the day itself: bits of doubles, as text. */
  readonly moments: Readonly<Record<string, string>>;
  /** The plan as JSON. */
  readonly plan: string;
}

/** The outlook and the plan of a logbook's text; the same text is to give the same answer wherever this runs. */
export function workOut(text: string, now: string, seed: number): Worked {
  const catalog = unwrap(loadCatalog(files));
  const model = lookAhead(foldEntries(unwrap(readEntries(text))), catalog, { now, seed });
  const out = new Float64Array(model.scene.draws.count);
  const moments = model.looks.map((look) => {
    look.runsOutAfter(model.scene.nowDay, out);
    return [look.item.id, `${bitsOf(look.runsOut)} ${bitsOf(out)}`];
  });
  return {
    outlook: JSON.stringify(model.outlook),
    moments: Object.fromEntries(moments),
    plan: JSON.stringify(unwrap(makePlan(model)).plan),
  };
}

const bitsOf = (numbers: Float64Array): string =>
  Array.from(new BigUint64Array(numbers.buffer, numbers.byteOffset, numbers.length), (bits) =>
    bits.toString(36),
  ).join();
