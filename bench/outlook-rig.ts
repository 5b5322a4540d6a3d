import type { Catalog } from '../src/catalog/index.ts';
import { addDays } from '../src/dates/index.ts';
import type { Entry } from '../src/logbook/index.ts';
import { mi, Pen, psi } from '../test/support/rig.ts';

export const NOW = '2026-05-27';

/**
 * Five seasons of an invented rig with every kind of part of the catalog, twelve trips ahead, and some evidence for each duty, until
 * about `wanted` duties are looked at.
 */
export function longLogbook(catalog: Catalog, wanted: number): readonly Entry[] {
  const pen = new Pen();
  pen.write('enroll', '2021-03-01', { vehicle: 'trailer', name: 'Test trailer' });
  pen.write('set', '2021-03-01', { key: 'first-freeze', value: '10-12' });
  const parts: { id: string; kind: string }[] = [];
  let duties = 0;
  for (const kind of catalog.partKinds.values()) {
    const upkeeps = catalog.upkeepsOf.get(kind.id) ?? [];
    if (duties + upkeeps.length > wanted) continue;
    duties += upkeeps.length;
    const facts = Object.fromEntries(Object.keys(kind.factUnits ?? {}).map((fact) => [fact, psi(65)]));
    pen.write('fit', '2021-03-02', { part: `${kind.id}-1`, kind: kind.id, isNew: true, facts, madeOn: '2020-11' });
    parts.push({ id: `${kind.id}-1`, kind: kind.id });
  }
  let trailer = 20_000;
  let tow = 60_000;
  for (let year = 2021; year < 2026; year++) {
    for (let i = 0; i < 7; i++) {
      const leave = addDays(`${year}-04-15`, i * 26);
      const id = `t-${year}-${i}`;
      const planned = 350 + ((i * 370 + year * 90) % 900);
      pen.write('trip', addDays(leave, -30), tripBody(id, leave, addDays(leave, 8), planned));
      trailer += planned * 1.1;
      tow += planned * 1.1 + 700;
      const back = addDays(leave, 8);
      const odometers = { odometer: mi(Math.round(trailer)), odometerTow: mi(Math.round(tow)) };
      pen.write('trip-done', back, { trip: id, left: leave, back, miles: mi(Math.round(planned * 1.1)), ...odometers });
    }
    for (const [i, part] of parts.entries()) {
      const done = (catalog.upkeepsOf.get(part.kind) ?? [])
        .filter((_, j) => (i + j + year) % 2 === 0)
        .map((upkeep) => ({
          upkeep: upkeep.id,
          part: part.id,
          outcome: 'good' as const,
          readings: upkeep.readings.map(reading),
        }));
      const on = addDays(`${year}-09-01`, i % 90);
      if (done.length)
        pen.write('work', on, { done, odometer: mi(Math.round(trailer)), odometerTow: mi(Math.round(tow)) });
    }
  }
  pen.write('reading', '2026-05-20', { vehicle: 'trailer', what: 'odometer', value: mi(Math.round(trailer + 12)) });
  pen.write('reading', '2026-05-20', { vehicle: 'tow', what: 'odometer', value: mi(Math.round(tow + 6_000)) });
  for (let i = 0; i < 12; i++) {
    const leave = addDays('2026-06-05', i * 24);
    pen.write(
      'trip',
      '2026-05-21',
      tripBody(`a-${i}`, leave, addDays(leave, 6 + (i % 5)), 300 + i * 70, i % 4 === 3 ? 0.5 : 1),
    );
  }
  return pen.entries;
}

const tripBody = (trip: string, leave: string, back: string, miles: number, chance = 1) => ({
  trip,
  name: trip,
  leave,
  return: back,
  miles: mi(miles),
  chance,
});

/** A reading somewhat on the good side of most limits. */
function reading({ what, unit }: { readonly what: string; readonly unit: string }) {
  const value: Record<string, number> = { psi: 72, V: 12.7, in: 0.2, '%': 80, h: 100 };
  return { what, value: { value: value[unit] ?? 10, unit: unit as 'psi' } };
}
