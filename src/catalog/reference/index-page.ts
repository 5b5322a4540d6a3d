import type * as z from 'zod/mini';
import { clockSchema, sections } from '../schema.ts';
import type { Catalog } from '../types.ts';
import { bullets, type Page, page, table } from './page.ts';

const count = (n: number, noun: string) => `${n} ${noun}`;

const OVERRIDES = `Your handbook comes first. Lay it over the catalog with a \`set\` entry; the newest of a key holds and \`null\` takes it back.

Another figure for one clock (\`clock\` names its kind; without \`part\` it is for every part of the kind):

\`\`\`json
{ "key": "override/repack-bearings/miles",
  "value": { "upkeep": "repack-bearings", "clock": "miles", "every": "6,000 mi", "source": "Axle handbook, page 14" } }
{ "key": "override/renew-tire-by-age/age",
  "value": { "upkeep": "renew-tire-by-age", "clock": "age", "from": 60, "by": 84, "source": "My own limit", "sourceKind": "common practice" } }
{ "key": "override/charge-house-battery/limit/battery-2",
  "value": { "upkeep": "charge-house-battery", "part": "battery-2", "clock": "limit", "limit": "12.5 V", "source": "Battery sheet" } }
{ "key": "override/top-up-battery/months",
  "value": { "upkeep": "top-up-battery", "clock": "months", "every": 3, "source": "Battery sheet" } }
\`\`\`

Fields by kind of clock: \`miles\` every (with its unit); \`months\`, \`nights\` every; \`hours\` every, counter; \`age\` from, by, countedFrom, label (months);
\`season\` before; \`departure\` withinDays; \`after\` atMiles, atDays; \`limit\` limit (with its unit). \`"off": true\` takes the clocks of a kind off, but never the last.
A kind the upkeep did not have is added, except \`after\` and \`limit\`. Other steps, more cautions (the catalog's stay) or other minutes:

\`\`\`json
{ "key": "override/adjust-brakes/steps",
  "value": { "upkeep": "adjust-brakes", "steps": ["…"], "cautions": ["…"], "minutes": 20, "source": "Axle handbook, page 9" } }
\`\`\`

An upkeep or a kind of part of your own (its id follows the slash):

\`\`\`json
{ "key": "own-upkeep/oil-the-bicycle-rack",
  "value": { "title": "Oil the bicycle rack", "part": "bicycle-rack", "severity": "comfort", "minutes": 10, "failureCost": 50,
             "clocks": [{ "kind": "months", "every": 12 }], "source": "Rack sheet", "sourceKind": "handbook" } }
{ "key": "own-part-kind/bicycle-rack", "value": { "name": "Bicycle rack" } }
\`\`\`

What is yours is shown as yours: its source is marked as the owner's. A figure outside the range of the catalog's sources is taken, and \`rigworthy catalog check\` says so.
`;

const RULES = [
  'A value without a source, and a source without a kind.',
  'A reference to a set-up, part, upkeep, kit item, rig fact or source that is not there; the nearest known ids are offered.',
  'A quantity in an unknown unit or of the wrong dimension; a limit in another dimension than its reading.',
  'A figure outside the range its own clock states.',
  'A circle of follow-ups, of `covers`, of `goesAfter` or of set-ups.',
  'An upkeep that covers a duty of another part; a set-up without those it stands on.',
  'An upkeep, set-up or mishap that neither names its hazards nor says `hazards: none`; a hazard without one caution of the work’s own; work for licensed hands that does not say so.',
  'A text that names a shared limit (`{tread-least}`) nobody gives.',
  'An id used twice, an unknown field, torn YAML.',
];

function fieldRows(shape: Readonly<Record<string, z.ZodMiniType>>): string[][] {
  return Object.entries(shape).map(([name, type]) => {
    const optional = type.safeParse(undefined).success || type.type === 'optional';
    return [`\`${name}\``, optional ? 'may be left out' : 'needed'];
  });
}

function formatLines(): string[] {
  const lists = Object.entries(sections).flatMap(([name, schema]) => [
    `#### \`${name}\``,
    '',
    ...table(['Field', ''], fieldRows(schema.shape)),
  ]);
  const clocks = clockSchema.def.options.map((option) => {
    const { kind, source: _s, range: _r, note: _n, ...own } = option.shape as Record<string, z.ZodMiniType>;
    const fields = Object.entries(own).map(
      ([name, type]) => `\`${name}\`${type.safeParse(undefined).success ? '?' : ''}`,
    );
    return [`\`${(kind as z.ZodMiniLiteral<string>).def.values[0]}\``, fields.join(', ')];
  });
  return [
    ...lists,
    '#### Clocks',
    '',
    'Each also has `source`, and may have `range` and `note`.',
    '',
    ...table(['kind', 'fields'], clocks),
  ];
}

/** The first page: what is in it, how to read it, how to lay one's own handbook over it, and the format of the files. */
export function indexPage(catalog: Catalog, others: readonly Page[]): Page {
  const upkeeps = [...catalog.upkeeps.values()];
  const by = (severity: string) => upkeeps.filter((upkeep) => upkeep.severity === severity).length;
  return page('README.md', [
    '# The catalog',
    '',
    'What the trade knows about keeping a towed travel trailer and its tow vehicle: a readable copy of the data in `catalog/`.',
    '',
    ...bullets([
      `${count(upkeeps.length, 'upkeeps')}: ${by('safety')} for safety, ${by('damage')} against damage, ${by('comfort')} for comfort; ${upkeeps.filter(({ drill }) => drill).length} of them are drills.`,
      `${count(catalog.partKinds.size, 'kinds of part')}, ${count(catalog.setups.size, 'set-ups')}, ${count(catalog.mishaps.size, 'mishaps')}, ${count(catalog.kit.size, 'tools and spares')}, ${count(catalog.sources.size, 'sources')}.`,
    ]),
    '',
    '## Pages',
    '',
    ...bullets(others.map(({ name, text }) => `[${/^# (.+)$/m.exec(text)![1]}](${name})`)),
    '',
    '## How to read it',
    '',
    'An upkeep runs out when the first of its clocks does. Every clock names its source and, where sources disagree, their range. Minutes, money, weights,',
    'lead times and the steepness with which failure grows are **estimates**, made for comparing plans and for nothing else.',
    'The handbook of your own rig outranks everything here, and so do local codes and licensed practice.',
    '',
    '## Laying your own handbook over it',
    '',
    OVERRIDES,
    '## Changing the catalog',
    '',
    'Every YAML file under `catalog/` is a mapping of lists, and `limits.json` a mapping of limits by id; which file holds what does not matter. A text names a',
    'shared limit as `{id}`; the loader puts the figure in and its source beside it. Where the cautions of a job do not speak of a hazard it names, the',
    'standing caution of `hazards.yaml` is added. It is loaded whole or not at all. Refused, with file and line:',
    '',
    ...bullets(RULES),
    '',
    '### Fields',
    '',
    'What each means, and the fields inside `clocks`, `readings`, `consumables` and `figures`, stands in `src/catalog/types.ts`.',
    '',
    ...formatLines(),
  ]);
}
