import { type Catalog, upkeepsOfPart } from '../catalog/index.ts';
import { dateOf, formatDate } from '../dates/index.ts';
import { partsOf } from '../logbook/index.ts';
import { chanceOnTrip, type Look, type OutlookModel } from '../outlook/index.ts';
import { convert, formatQuantity, preferredUnit, type Quantity, roundForDisplay } from '../quantity/index.ts';
import type { Horizon, Job } from './intervals.ts';
import { belongs } from './kinds.ts';
import type { OnTheWay } from './types.ts';

/** Jobs given a slot, by slot. */
export type Placed = ReadonlyMap<number, readonly Job[]>;

/**
 * What is done on leaving and on the road: the duties of each departure for the next trip, follow-ups already born, and those that the
 * planned work will give birth to, each on the trip on which it falls.
 */
export function onTheWay(model: OutlookModel, horizon: Horizon, placed: Placed): OnTheWay[] {
  return [...leaving(model, horizon), ...bornFollowUps(model), ...plannedFollowUps(model, horizon, placed)];
}

function leaving(model: OutlookModel, { trips, nowDay }: Horizon): OnTheWay[] {
  const next = trips.find((trip) => trip.leave >= nowDay);
  if (!next) return [];
  return model.looks
    .filter((look) => belongs(look) === 'leaving')
    .filter(({ item }) => chanceOnTrip(item, next.id) > 0)
    .map((look) => ({ ...named(look), ...tripOf(next), at: 'leaving' as const, why: look.item.why }));
}

const tripOf = ({ id, name }: { id: string; name: string }) => ({ trip: id, tripName: name });

const named = (look: Look) => ({
  item: look.item.id,
  upkeep: look.upkeep.id,
  part: look.item.part,
  title: look.item.title,
});

function bornFollowUps({ looks, scene }: OutlookModel): OnTheWay[] {
  const found: OnTheWay[] = [];
  for (const look of looks) {
    const { follows } = look.item;
    if (!follows) continue;
    const trip = scene.draws.trips.find(
      (ahead) => ahead.back >= scene.nowDay && chanceOnTrip(look.item, ahead.id) >= 0.5,
    );
    if (!trip) continue;
    // The trip begins where the odometer stands now: what is left until then is driven on it.
    const left = look.item.left ?? { value: 0, unit: 'mi' as const };
    found.push({
      ...named(look),
      ...tripOf(trip),
      at: { ...left, value: Math.max(0, left.value) },
      why: look.item.why,
    });
  }
  return found;
}

function plannedFollowUps(model: OutlookModel, { slots, trips }: Horizon, placed: Placed): OnTheWay[] {
  const { scene } = model;
  const found: OnTheWay[] = [];
  for (const { part, upkeep, clock } of followUpDuties(scene.state, scene.catalog)) {
    for (const [slot, jobs] of placed) {
      const { day } = slots[slot - 1]!;
      const trip = trips.find((ahead) => ahead.leave >= day && ahead.chance >= 0.5);
      const causes = jobs.filter(
        (job) =>
          !job.lookOnly &&
          job.looks[0].upkeep.id !== upkeep.id &&
          (clock.upkeeps.includes(job.looks[0].upkeep.id) ||
            job.looks[0].upkeep.setups.some((setup) => clock.setups.includes(setup))),
      );
      // Work of a later yard day before the same trip starts the follow-ups afresh.
      const newer = [...placed].some(
        ([other, others]) =>
          other > slot &&
          slots[other - 1]!.day <= (trip?.leave ?? 0) &&
          others.some((job) => job.looks[0].upkeep.setups.some((setup) => clock.setups.includes(setup))),
      );
      if (!trip || causes.length === 0 || newer) continue;
      for (const at of clock.atMiles) {
        found.push({
          item: `${upkeep.id}@${part.id}+${at.value}${at.unit}`,
          upkeep: upkeep.id,
          part: part.id,
          title: upkeep.title,
          ...tripOf(trip),
          at: inSystem(at, scene.system),
          why: `${formatQuantity(at, { system: scene.system })} after “${causes[0]!.looks[0].item.title.toLowerCase()}” planned for ${formatDate(dateOf(day), 'no-year')}.`,
        });
      }
    }
  }
  return found;
}

function followUpDuties(state: Parameters<typeof partsOf>[0], catalog: Catalog) {
  return partsOf(state).flatMap((part) =>
    upkeepsOfPart(catalog, part.kind, part.id).flatMap((upkeep) =>
      upkeep.clocks.flatMap((clock) => (clock.kind === 'after' ? [{ part, upkeep, clock }] : [])),
    ),
  );
}

function inSystem(q: Quantity, system: 'us' | 'metric'): Quantity {
  const unit = preferredUnit('length', system, q.unit);
  return unit === q.unit ? q : { value: roundForDisplay(convert(q, unit).value, 1), unit };
}
