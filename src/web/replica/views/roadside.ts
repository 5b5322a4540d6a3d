import type { Mishap } from '../../../catalog/index.ts';
import { formatDate } from '../../../dates/index.ts';
import { kitAboard, partsOf, placesText, settingOf, settingsOf } from '../../../logbook/index.ts';
import { formatQuantity } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';
import { factName, factText, type SourceLine, sourcesOf } from './entry-text.ts';
import { labelOf } from './form-fields.ts';
import { type Told, toldBy } from './told.ts';

export interface MishapLine {
  readonly id: string;
  readonly title: string;
  readonly signs: readonly string[];
  /** This rig has a part that can bring it on. */
  readonly here: boolean;
}

export interface RoadsideView {
  readonly mishaps: readonly MishapLine[];
  readonly calls: readonly { readonly name: string; readonly number: string }[];
  /** No part is on record: nothing can be ruled out. */
  readonly bare: boolean;
}

/** What one mishap asks for, and where it is. */
export interface KitLine {
  readonly name: string;
  readonly where: string;
  readonly aboard: boolean;
  /** What does as well. */
  readonly or: string;
}

export interface OwnLine {
  readonly name: string;
  readonly value: string;
  readonly known: boolean;
}

export interface MishapView {
  readonly id: string;
  readonly title: string;
  readonly signs: readonly string[];
  readonly practised: string;
  readonly firstMinute: readonly string[];
  readonly cautions: readonly string[];
  readonly steps: readonly string[];
  /** Facts that the steps cannot do without. */
  readonly needs: readonly OwnLine[];
  /** What labels say, and figures the steps rely on. */
  readonly own: readonly OwnLine[];
  readonly tools: readonly KitLine[];
  readonly spares: readonly KitLine[];
  readonly doNotTowIf: readonly string[];
  readonly call: readonly string[];
  readonly calls: RoadsideView['calls'];
  readonly sources: Readonly<Record<string, SourceLine>>;
}

const callsOf = (keeper: Keeper): RoadsideView['calls'] => [...settingsOf(keeper.state, 'call').values()];

/** Every mishap this rig can have, then those it cannot. */
export function roadsideView(keeper: Keeper): RoadsideView {
  const kinds = new Set(partsOf(keeper.state).map((part) => part.kind));
  const mishaps = [...keeper.catalog.mishaps.values()].map(({ id, title, signs, parts }) => ({
    id,
    title,
    signs,
    here: parts.length === 0 || parts.some((kind) => kinds.has(kind)),
  }));
  return {
    mishaps: mishaps.sort((a, b) => Number(b.here) - Number(a.here)),
    calls: callsOf(keeper),
    bare: kinds.size === 0,
  };
}

export function mishapView(keeper: Keeper, id: string): MishapView | null {
  const mishap = keeper.catalog.mishaps.get(id);
  if (!mishap) return null;
  const told = toldBy(keeper);
  return {
    id,
    title: mishap.title,
    signs: mishap.signs,
    practised: practisedText(keeper, mishap),
    firstMinute: mishap.firstMinute,
    cautions: mishap.cautions,
    steps: mishap.steps,
    ...ownNumbers(keeper, told, mishap),
    tools: mishap.tools.map((item) => kitLine(keeper, mishap, item)),
    spares: mishap.spares.map((item) => kitLine(keeper, mishap, item)),
    doNotTowIf: mishap.doNotTowIf,
    call: mishap.call,
    calls: callsOf(keeper),
    sources: sourcesOf(told, [mishap.source, ...(mishap.figures ?? []).map((figure) => figure.source)]),
  };
}

function practisedText(keeper: Keeper, { drill }: Mishap): string {
  if (drill === undefined) return '';
  const done = partsOf(keeper.state)
    .flatMap((part) => part.work.get(drill) ?? [])
    .filter((work) => work.outcome === 'good')
    .map((work) => work.on)
    .sort()
    .at(-1);
  return done === undefined ? 'Never practised.' : `Practised on ${formatDate(done, 'day')}.`;
}

/** Facts the work cannot do without, then what the labels of the parts concerned say, then the figures its steps rely on. */
function ownNumbers(keeper: Keeper, told: Told, mishap: Mishap): Pick<MishapView, 'needs' | 'own'> {
  const facts = (mishap.needsFacts ?? []).flatMap((id) => {
    const fact = keeper.catalog.rigFacts?.get(id);
    if (!fact) return [];
    const given = settingOf(keeper.state, 'fact', id);
    if (given === undefined) return [{ name: fact.title, value: `Not on record. ${fact.ask}`, known: false }];
    return [
      {
        name: fact.title,
        value: typeof given === 'number' ? `${given} ${fact.unit ?? ''}`.trim() : given,
        known: true,
      },
    ];
  });
  const labels = new Map<string, { name: string; value: string; places: string[] }>();
  for (const part of partsOf(keeper.state)) {
    if (!mishap.parts.includes(part.kind)) continue;
    const kind = keeper.catalog.partKinds.get(part.kind)?.name ?? labelOf(part.kind);
    for (const [fact, given] of Object.entries(part.facts)) {
      const line = { name: `${kind}: ${factName(fact)}`, value: factText(told, given), places: [] };
      const known = labels.get(`${line.name} ${line.value}`) ?? line;
      labels.set(`${line.name} ${line.value}`, { ...known, places: [...known.places, part.place] });
    }
  }
  const own = [...labels.values()].slice(0, 12).map(({ name, value, places }) => {
    const at = placesText(places);
    return { name, value: at === '' || places.length > 3 ? value : `${value} (${at})`, known: true };
  });
  const spare = partsOf(keeper.state).find((part) => part.kind === 'spare-tire');
  const pressure = spare?.readings.get('pressure-cold')?.at(-1);
  const wheel =
    spare && mishap.parts.some((kind) => kind === 'tire' || kind === 'wheel')
      ? [
          {
            name: 'The spare',
            value: `${spare.place}${pressure ? `, ${factText(told, pressure.value)} on ${formatDate(pressure.on, 'day')}` : ', pressure never read'}`,
            known: true,
          },
        ]
      : [];
  const figures = (mishap.figures ?? []).map((figure) => ({
    name: labelOf(figure.what),
    value: figure.is
      ? formatQuantity(figure.is, { system: told.system })
      : [figure.from, figure.to]
          .filter((one) => one !== undefined)
          .map((one) => formatQuantity(one, { system: told.system }))
          .join(' to '),
    known: true,
  }));
  return { needs: [...facts, ...wheel], own: [...own, ...figures] };
}

function kitLine(keeper: Keeper, mishap: Mishap, item: string): KitLine {
  const aboard = kitAboard(keeper.state);
  const others = mishap.alternatives?.[item] ?? [];
  const here = [item, ...others].find((one) => aboard.has(one));
  const name = (id: string): string => keeper.catalog.kit.get(id)?.name ?? id.replaceAll('-', ' ');
  return {
    name: name(here ?? item),
    where: here === undefined ? 'not aboard' : (aboard.get(here)?.body.where ?? 'aboard'),
    aboard: here !== undefined,
    or: here === undefined ? others.map(name).join(' or ') : '',
  };
}
