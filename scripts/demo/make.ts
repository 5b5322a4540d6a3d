import type { Entry } from '../../src/logbook/index.ts';
import { springOf2026, weepingSeal } from './axle-two.ts';
import { Book } from './book.ts';
import { drills, mishaps, ownFigures, rarer, renewals, season, spare } from './events.ts';
import { enrol, fitFound, fitTires, settle, stow } from './rig.ts';

/** The day on which the demo stands: everything in it was written before. */
export const DEMO_TODAY = '2026-05-27';

const SEED = 64_120;

/** Marigold's whole logbook, always the same. */
export function makeDemo(): Entry[] {
  const book = new Book();
  enrol(book);
  fitFound(book);
  stow(book, '2021-03-28');
  settle(book, '2021-03-28');
  fitTires(book, '2021-04-10');
  for (const year of [2021, 2022, 2023, 2024, 2025]) season(book, year);
  for (const chapter of [renewals, rarer, spare, drills, mishaps, weepingSeal, ownFigures, springOf2026]) chapter(book);
  return book.entries(SEED);
}
