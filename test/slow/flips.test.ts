import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AREAS, type FlipBench, flip, makeFlipBench } from '../kill/flips.ts';
import { Folder } from '../support/keeping.ts';

/** A few of those that `npm run flips` makes by hundreds. */
const FLIPS = 12;

describe('one bit flipped in what is kept', () => {
  const folder = new Folder();
  let bench: FlipBench;
  beforeAll(async () => {
    bench = await makeFlipBench(folder.path);
  });
  afterAll(() => folder.remove());

  it.each(AREAS)('in the %s is found, or does no harm', async (area) => {
    const outcomes: string[] = [];
    for (let n = 0; n < FLIPS; n++) outcomes.push(await flip(area, n, 11, bench));
    // Of a database half is room that is not used.
    expect(outcomes.filter((outcome) => outcome === 'found').length).toBeGreaterThan(FLIPS / 4);
  });
});
