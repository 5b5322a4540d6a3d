import { vehicleOf } from '../../logbook/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { takesSimply, upkeepOf } from '../takes.ts';
import { type Expected, expectedFindings, isAbsent, lookFor } from './expected.ts';
import { type Bend, chanceOf, itemFinding, runOut, upkeepFindings } from './upkeep.ts';

const EXPECTED: readonly Expected[] = [
  { group: 'papers', kinds: ['insurance'], severity: 'safety' },
  { group: 'papers', kinds: ['inspection'], severity: 'damage' },
];

/** A lapse stops us whatever it costs: on the road it cannot be mended. */
const BEND: Bend = { severity: 'safety' };

/** Registration, inspection and insurance through the return. What lapses during the trip stops us. */
export function paperFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const known = items.filter((item) => item.part !== null && isPaper(context, item));
  const others = items.filter((item) => item.part !== null && !isPaper(context, item));
  return [
    ...known.map((item) => paper(context, item)),
    ...upkeepFindings(context, others),
    ...upkeepFindings(
      context,
      items.filter((item) => item.part === null),
      BEND,
    ),
    ...expectedFindings(context, EXPECTED),
    ...registrations(context),
  ];
}

/** Whether a duty is that of keeping a paper in date, and not another one (that it is aboard). */
const isPaper = ({ catalog }: Context, item: OutlookItem): boolean =>
  upkeepOf(catalog, item).clocks.every((clock) => clock.kind === 'age');

function paper(context: Context, item: OutlookItem): DraftFinding {
  const upkeep = upkeepOf(context.catalog, item);
  const lapses = (item.state === 'runs' || item.state === 'due') && chanceOf(context, item) > context.alpha('safety');
  const finding = lapses
    ? runOut(context, upkeep, [item], chanceOf(context, item), BEND)
    : itemFinding(context, upkeep, item, BEND);
  if (!finding.takes || item.part === null || item.state === 'failed') return finding;
  return { ...finding, takes: { ...finding.takes, entry: { kind: 'paper', part: item.part } } };
}

/** One for each vehicle on the rig; a registration that names none is taken for the trailer's. */
function registrations(context: Context): DraftFinding[] {
  const kind = context.catalog.partKinds.get('registration');
  if (!kind || isAbsent(context, 'registration')) return [];
  const owned = context.parts.filter((part) => part.kind === 'registration').map((part) => part.vehicle ?? 'trailer');
  return (['trailer', 'tow'] as const)
    .filter((role) => vehicleOf(context.state, role) && !owned.includes(role))
    .map((role) => {
      const whose = role === 'trailer' ? 'the trailer' : 'the tow vehicle';
      return {
        id: `papers/unknown-registration-${role}`,
        group: 'papers' as const,
        kind: 'unproven' as const,
        severity: 'safety' as const,
        text: `Registration of ${whose}: not on record. ${lookFor(context, 'registration')}`,
        takes: takesSimply(`Read the end of term on the registration of ${whose}`, 5, {
          kind: 'fit',
          part: null,
          partKind: 'registration',
        }),
        evidence: [],
        sources: (context.catalog.upkeepsOf.get('registration') ?? []).flatMap((upkeep) =>
          upkeep.clocks.map((clock) => clock.source),
        ),
      };
    });
}
