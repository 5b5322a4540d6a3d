import { ulid } from 'ulid';
import { describe, expect, it } from 'vitest';
import { axe, ready, serving } from './support.ts';

const app = serving({ demo: false });

const entry = (kind: string, body: unknown) => ({
  ...{ id: ulid(), rig: 'juniper', kind, on: '2026-05-01', at: '2026-05-01T10:00:00Z', by: 'Ann', v: 1, body },
});
const ENROLLED = [
  entry('enroll', { vehicle: 'trailer', name: 'Juniper', axles: 2 }),
  entry('enroll', { vehicle: 'tow', name: 'Otter' }),
];
const TRIP = entry('trip', {
  ...{ trip: 'river', name: 'River bend', leave: '2026-06-20', return: '2026-06-22', miles: '120 mi', chance: 1 },
});
const PART = entry('fit', { part: 'spare', kind: 'spare-tire', place: 'rear bumper', isNew: false });

async function write(...entries: unknown[]): Promise<void> {
  const answer = await fetch(`${app.url}/api/rigs/juniper/entries`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ entries }),
  });
  expect(answer.status).toBe(200);
}

/** The heading of each screen, on a phone in the sun; axe has nothing to object to. */
async function headings(): Promise<Record<string, string>> {
  const { page, context, errors } = await app.open({ theme: 'sun' });
  const found: Record<string, string> = {};
  for (const screen of ['go', 'season', 'rig', 'scale', 'logbook', 'roadside', 'round']) {
    await page.evaluate((to) => {
      location.hash = `#/${to}`;
    }, screen);
    await ready(page);
    expect(await axe(page), screen).toEqual([]);
    found[screen] = (await page.locator('main').textContent())!;
  }
  expect(errors).toEqual([]);
  await context.close();
  return found;
}

describe('a rig of which little is known', () => {
  it('with nothing: says what is missing and what to do, and nowhere that all is well', async () => {
    await write(...ENROLLED);
    const found = await headings();
    expect(found.go).toMatch(/^No trip is planned.*Plan a trip.*Walk round the rig/s);
    expect(found.season).toMatch(/^Nothing is on record yet, so nothing can be planned\..*Walk round the rig/s);
    expect(found.rig).toMatch(/No part is on record yet.*Walk round the rig/s);
    expect(found.scale).toMatch(/^Never weighed\. No margin is known\./);
    expect(found.roadside).toMatch(/What can happen on the road/);
    for (const text of Object.values(found)) expect(text).not.toMatch(/Nothing we know of runs out|\b1 \w+s at\b/);
  });

  it('with a part and no trip: a plan, and no judgement', async () => {
    await write(PART);
    const found = await headings();
    expect(found.go).toMatch(/^No trip is planned/);
    expect(found.season).toMatch(/^One yard day/);
    expect(found.rig).toMatch(/1 part at 1 place\./);
  });

  it('with a trip: an honest hold', async () => {
    await write(TRIP);
    const found = await headings();
    expect(found.go).toMatch(/Not yet\..*(unproven|proven)/s);
    expect(found.round).toMatch(/Before we roll/);
  });
});
