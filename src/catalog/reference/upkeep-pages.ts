import { formatQuantity } from '../../quantity/index.ts';
import { sourcesOfClock } from '../clocks.ts';
import { hazardsOf } from '../hazards.ts';
import { clockText } from '../phrase.ts';
import type { Catalog, Figure, PartKind, Upkeep } from '../types.ts';
import { bullets, numbered, type Page, page, section, slug, table } from './page.ts';

/** `Title (kind, edition; from memory)`, for reading beside a figure. */
export function sourceText(catalog: Catalog, id: string): string {
  const source = catalog.sources.get(id)!;
  const memory = source.seen === 'memory' ? '; from memory' : '';
  return `[${source.title}](sources.md#${id}) (${source.kind}${memory})`;
}

export function figureLines(catalog: Catalog, figures: readonly Figure[] | undefined): string[] {
  return (figures ?? []).map((figure) => {
    const band = figure.from && figure.to ? `${formatQuantity(figure.from)} to ${formatQuantity(figure.to)}` : '';
    const value = figure.is === undefined ? band : formatQuantity(figure.is);
    const note = figure.note === undefined ? '' : ` ${figure.note}`;
    return `- ${figure.what}: ${value}. ${sourceText(catalog, figure.source)}.${note}`;
  });
}

export function factLines(catalog: Catalog, ids: readonly string[] | undefined): string[] {
  return (ids ?? []).map((id) => `- [${catalog.rigFacts!.get(id)!.title}](rig-facts.md#${id})`);
}

export const kitNames = (catalog: Catalog, ids: readonly string[]) => ids.map((id) => catalog.kit.get(id)!.name);

/** Chapters in reading order; others come after them. */
const CHAPTERS = [
  'running gear',
  'brakes',
  'hitch and coupling',
  'LP gas',
  'safety devices',
  '12 V',
  '120 V',
  'water',
  'heating and cooling',
  'roof and body',
  'doors and slides',
  'papers',
  'storage',
  'tow vehicle',
];

/** One page for each chapter of parts. */
export function upkeepPages(catalog: Catalog): Page[] {
  const groups = new Map<string, PartKind[]>(CHAPTERS.map((chapter) => [chapter, []]));
  for (const part of catalog.partKinds.values()) groups.set(part.group, [...(groups.get(part.group) ?? []), part]);
  const filled = [...groups].filter(([, parts]) => parts.length > 0);
  return filled.map(([group, parts]) =>
    page(`${slug(group)}.md`, [
      `# ${group[0]!.toUpperCase()}${group.slice(1)}`,
      '',
      'Minutes, money and steepness are estimates. The handbook of your own rig outranks every figure.',
      '',
      ...parts.flatMap((part) => partLines(catalog, part)),
    ]),
  );
}

function partLines(catalog: Catalog, part: PartKind): string[] {
  const facts = Object.entries(part.facts).map(([id, meaning]) => {
    const unit = part.factUnits?.[id];
    return `- \`${id}\`${unit === undefined ? '' : ` (${unit})`}: ${meaning}`;
  });
  return [
    `## ${part.name}`,
    '',
    `Kind \`${part.id}\`, ${part.per === 'each' ? 'as many as there are' : `one a ${part.per}`}${part.vehicle === 'tow' ? ', on the tow vehicle' : ''}.`,
    '',
    ...section('Look for', bullets(part.identify)),
    ...section('Facts it may carry', facts),
    ...(catalog.upkeepsOf.get(part.id) ?? []).flatMap((upkeep) => upkeepLines(catalog, upkeep)),
  ];
}

function clockRows(catalog: Catalog, upkeep: Upkeep): string[][] {
  return upkeep.clocks.map((clock) => [
    clockText(clock),
    clock.range === undefined ? '' : `${clock.range[0]} to ${clock.range[1]}`,
    sourcesOfClock(clock)
      .map((source) => sourceText(catalog, source))
      .join('; '),
    clock.note ?? '',
  ]);
}

function upkeepLines(catalog: Catalog, upkeep: Upkeep): string[] {
  const { failure } = upkeep;
  const hazards = [...hazardsOf(catalog, upkeep)];
  const season = Object.entries(upkeep.seasonOrder ?? {}).map(([name, place]) => `${name} ${place}`);
  return [
    `### ${upkeep.title}`,
    '',
    `\`${upkeep.id}\`${upkeep.drill ? ' · drill' : ''} · ${upkeep.severity} · ${upkeep.skill} · ${upkeep.place} · about ${upkeep.minutes} min`,
    '',
    upkeep.why,
    '',
    ...table(['Runs out', 'Sources range', 'Source', 'Note'], clockRows(catalog, upkeep)),
    ...section('Cautions', bullets(upkeep.cautions)),
    ...section('Needs from your handbook', factLines(catalog, upkeep.needsFacts)),
    ...section('Steps', numbered(upkeep.steps)),
    ...section('Figures', figureLines(catalog, upkeep.figures)),
    ...section(
      'Readings',
      upkeep.readings.map(
        ({ what, unit, limit, source }) =>
          `- \`${what}\` in ${unit}${limit === undefined ? '' : `, limit ${limit}`}${source === undefined ? '' : `. ${sourceText(catalog, source)}`}`,
      ),
    ),
    ...section('With', [
      ...upkeep.setups.map((id) => `- Set-up: [${catalog.setups.get(id)!.title}](setups.md#${id})`),
      ...kitNames(catalog, upkeep.tools).map((name) => `- ${name}`),
      ...upkeep.consumables.map(
        (c) => `- Used up: ${c.what}, ${c.quantity}; about ${c.leadDays} days to get, about $${c.cost}`,
      ),
    ]),
    ...section('Nothing on record', [upkeep.look]),
    ...section(
      'Going with limits',
      upkeep.goWithLimits ? [`${upkeep.goWithLimits.text} ${sourceText(catalog, upkeep.goWithLimits.source)}`] : [],
    ),
    ...section(
      'And',
      bullets([
        `If it fails: ${failure.consequence} (about $${failure.cost}, steepness ${failure.steepness}).`,
        upkeep.restores
          ? 'Doing it starts its clocks afresh and restores the part.'
          : 'Doing it proves the part; it restores nothing.',
        ...(upkeep.frostFree ? ['Wants weather without frost.'] : []),
        ...(upkeep.covers.length === 0 ? [] : [`Also does: ${upkeep.covers.map((id) => `\`${id}\``).join(', ')}.`]),
        ...(upkeep.goesAfter.length === 0 ? [] : [`After: ${upkeep.goesAfter.map((id) => `\`${id}\``).join(', ')}.`]),
        ...(season.length === 0 ? [] : [`Place in the season: ${season.join(', ')}.`]),
        ...(hazards.length === 0 ? [] : [`Hazards: ${hazards.join(', ')}.`]),
        ...(upkeep.restsOn === undefined
          ? []
          : [`Rests on: ${upkeep.restsOn.map((id) => sourceText(catalog, id)).join('; ')}.`]),
      ]),
    ),
  ];
}
