import { type Catalog, type SetUp, type Upkeep, upkeepOfPart, type VehicleRole } from '../catalog/index.ts';
import type { OutlookItem } from '../outlook/index.ts';
import { setUpUnits, wheelsAt } from '../plan/index.ts';
import type { Context } from './context.ts';
import type { Proof, Takes } from './types.ts';
import { listed } from './words.ts';

/** Minutes to look at a thing and write down what it says. Our own estimate. */
const LOOK_MINUTES = 5;

/** The upkeep as it stands for this part: the owner's own figures outrank the catalog's. */
export function upkeepOf(catalog: Catalog, item: Pick<OutlookItem, 'upkeep' | 'part'>): Upkeep {
  const upkeep = item.part === null ? catalog.upkeeps.get(item.upkeep) : upkeepOfPart(catalog, item.upkeep, item.part);
  if (!upkeep)
    throw new Error(`invariant: the outlook speaks of an upkeep that the catalog does not know: ${item.upkeep}`);
  return upkeep;
}

const setupsOf = ({ catalog }: Context, upkeep: Upkeep): readonly SetUp[] =>
  upkeep.setups.map((id) => {
    const setup = catalog.setups.get(id);
    if (!setup) throw new Error(`invariant: unknown set-up ${id}`);
    return setup;
  });

/** Doing an upkeep on one or several parts: minutes with its set-ups, once. `own`: what is told otherwise. */
export function takesDoing(
  context: Context,
  upkeep: Upkeep,
  items: readonly OutlookItem[],
  own: Partial<Takes> = {},
): Takes {
  const setups = setupsOf(context, upkeep);
  const tools = [...new Set([...setups.flatMap((setup) => setup.tools), ...upkeep.tools])];
  const places = items.map((item) => item.place).filter((place) => place !== '');
  return {
    action: places.length === 0 ? upkeep.title : `${upkeep.title}: ${listed(places)}`,
    minutes: upkeep.minutes * items.length + minutesOfSetUps(context, upkeep, items),
    setups: upkeep.setups,
    tools: tools.map((id) => toolName(context, id)),
    parts: upkeep.consumables.map((used) => `${used.what}, ${used.quantity}${items.length > 1 ? ' each' : ''}`),
    aboard: toolsAboard(context, tools),
    hands: upkeep.place === 'shop' ? 'shop' : upkeep.skill,
    entry: own.entry ?? proofOf(upkeep, items),
    ...own,
  };
}

/** Minutes of the set-ups for work on these parts: once, and once more for each wheel. */
function minutesOfSetUps({ catalog, state }: Context, upkeep: Upkeep, items: readonly OutlookItem[]): number {
  const wheels = items.flatMap((item) => wheelsAt(item, state, catalog, upkeep));
  const units = new Map(setUpUnits(catalog, upkeep.setups, wheels).map(({ key, minutes }) => [key, minutes]));
  return [...units.values()].reduce((sum, minutes) => sum + minutes, 0);
}

/** Looking at a part of which nothing is on record. */
export function takesLooking(upkeep: Upkeep, item: OutlookItem): Takes {
  const proof: Proof = item.part === null ? { kind: 'fit', part: null, partKind: item.kind } : proofOf(upkeep, [item]);
  return takesSimply(upkeep.look, LOOK_MINUTES, proof);
}

/** Reading an odometer. */
export function takesOdometer(vehicle: VehicleRole): Takes {
  const whose = vehicle === 'trailer' ? 'the trailer' : 'the tow vehicle';
  return takesSimply(`Read the odometer of ${whose}`, LOOK_MINUTES, { kind: 'odometer', vehicle });
}

/** Something done without tools worth naming. */
export function takesSimply(action: string, minutes: number, entry: Proof | null, extra: Partial<Takes> = {}): Takes {
  return { action, minutes, setups: [], tools: [], parts: [], aboard: null, hands: 'owner', entry, ...extra };
}

function proofOf(upkeep: Upkeep, items: readonly OutlookItem[]): Proof {
  const first = items[0];
  if (!first) throw new Error(`invariant: ${upkeep.id} is done on no part, and no entry is named`);
  const part = first.part ?? first.kind;
  if (upkeep.drill) return { kind: 'drill', upkeep: upkeep.id, part };
  // Nothing done to an old part makes it younger: a new one is fitted.
  if (first.state !== 'failed' && first.clock === 'age' && upkeep.restores)
    return { kind: 'fit', part, partKind: first.kind };
  return { kind: 'work', upkeep: upkeep.id, parts: items.flatMap((item) => (item.part === null ? [] : [item.part])) };
}

export function toolName({ catalog }: Pick<Context, 'catalog'>, id: string): string {
  return catalog.kit.get(id)?.name ?? id;
}

/** Kit that is fitted as a part of the rig, with the kinds of part it can be. */
const CARRIED_AS_PART: Readonly<Record<string, readonly string[]>> = {
  'spare-wheel': ['spare-tire'],
  'wheel-chocks': ['chocks', 'chocks-undated'],
  extinguisher: ['fire-extinguisher', 'fire-extinguisher-rechargeable'],
};

/** Ids of the kit aboard: what is carried, and what is fitted as a part (the spare tire). */
export function kitIds({ aboard, parts }: Pick<Context, 'aboard' | 'parts'>): ReadonlySet<string> {
  const kinds = new Set(parts.map((part) => part.kind));
  const fitted = Object.entries(CARRIED_AS_PART).flatMap(([id, as]) =>
    as.some((kind) => kinds.has(kind)) ? [id] : [],
  );
  return new Set([...aboard.keys(), ...fitted]);
}

/** Whether all of these are aboard; null where none is needed or no kit was ever written down. */
function toolsAboard(context: Context, tools: readonly string[]): boolean | null {
  if (tools.length === 0 || context.aboard.size === 0) return null;
  const have = kitIds(context);
  return tools.every((id) => have.has(id));
}

/** The cautions of a job, those of its set-ups first, each once. */
export function cautionsOf(context: Context, upkeep: Upkeep): readonly string[] {
  return [...new Set([...setupsOf(context, upkeep).flatMap((setup) => setup.cautions), ...upkeep.cautions])];
}
