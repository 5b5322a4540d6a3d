import type { Catalog } from '../catalog/index.ts';
import { formatDate } from '../dates/index.ts';
import type { Context } from './context.ts';
import { dutiesOf } from './told.ts';
import type { Finding, Judgement } from './types.ts';
import { capital, counted, countWord, listed, lower, spokenTime } from './words.ts';

/** Limits named in full in the sentence; the others are counted. */
const LIMITS_NAMED = 2;

/** The sentence on top. Findings are in their final order. */
export function sentenceOf(context: Context, judgement: Judgement, findings: readonly Finding[]): string {
  const counting = findings.filter((finding) => finding.counts !== 'nothing');
  switch (judgement) {
    case 'clear':
      return `Clear. Nothing we know of runs out before we are home on ${formatDate(context.return, 'no-year')}.`;
    case 'limits':
      return `Clear with limits: ${limitsText(counting)}.`;
    case 'hold':
      return `Not yet. ${holdText(context.catalog, counting, findings)}`;
  }
}

function holdText(catalog: Catalog, counting: readonly Finding[], all: readonly Finding[]): string {
  const stops = counting.filter((finding) => finding.kind === 'stop');
  const unproven = counting.filter((finding) => finding.kind === 'unproven' && finding.counts === 'hold');
  if (stops.length === 0) {
    if (all.every((finding) => finding.kind === 'unproven')) return 'Nothing about this rig is proven yet.';
    return `${capital(counted(countThings(unproven), 'thing is', 'things are'))} unproven, and must be looked at first.`;
  }
  const things = countThings(stops);
  const tail =
    unproven.length === 0 ? '' : ` ${capital(counted(countThings(unproven), 'more is', 'more are'))} unproven.`;
  return `${capital(counted(things, 'thing stops', 'things stop'))} us, ${whereText(catalog, stops)}.${tail}`;
}

/** One duty on four wheels is one thing to a person. */
const countThings = (findings: readonly Finding[]): number => dutiesOf(findings).length;

function whereText(catalog: Catalog, stops: readonly Finding[]): string {
  const shop = stops.filter((stop) => stop.takes?.hands === 'shop' || stop.takes?.hands === 'licensed');
  const home = stops.filter((stop) => !shop.includes(stop));
  const parts = [
    ...(home.length > 0 ? [`${spokenTime(minutesTogether(catalog, home))} at home`] : []),
    ...(shop.length > 0 ? [`${shop.length === 1 ? 'one' : countWord(shop.length)} for a shop`] : []),
  ];
  return parts.join(', ');
}

/** Minutes of several stops in one go: set-ups that they share are paid once. */
export function minutesTogether(catalog: Catalog, findings: readonly Finding[]): number {
  const minutesOfSetups = (ids: Iterable<string>): number =>
    [...ids].reduce((sum, id) => sum + (catalog.setups.get(id)?.minutes ?? 0), 0);
  const setups = new Set(findings.flatMap((finding) => finding.takes?.setups ?? []));
  const alone = findings.reduce(
    (sum, { takes }) => sum + (takes ? takes.minutes - minutesOfSetups(takes.setups) : 0),
    0,
  );
  return alone + minutesOfSetups(setups);
}

function limitsText(counting: readonly Finding[]): string {
  const limits = counting.filter((finding) => finding.kind === 'limit');
  const bounds = limits.filter((finding) => isBound(finding)).slice(0, LIMITS_NAMED);
  const leaving = limits.filter((finding) => finding.onLeaving);
  const onWay = limits.filter((finding) => finding.atMiles !== undefined || finding.onDay !== undefined);
  const kit = limits.filter((finding) => finding.group === 'kit');
  const gaps = kit.reduce((sum, { takes }) => sum + (takes?.entry?.kind === 'carry' ? takes.entry.items.length : 0), 0);
  const named = new Set([...bounds, ...leaving, ...onWay, ...kit]);
  const others = limits.filter((finding) => !named.has(finding));
  const unproven = counting.filter((finding) => finding.kind === 'unproven');
  return listed([
    ...bounds.map((finding) => finding.keepTo!),
    ...(leaving.length > 0 ? [`${counted(leaving.length, 'thing')} to do on leaving`] : []),
    ...(onWay.length > 0 ? [`${counted(onWay.length, 'thing')} to do on the way`] : []),
    ...(others.length > 0 ? [counted(others.length, 'risk to weigh', 'risks to weigh')] : []),
    ...(gaps > 0 ? [`${counted(gaps, 'gap')} in the kit`] : []),
    ...(unproven.length > 0 ? [`${counted(unproven.length, 'thing')} unproven`] : []),
  ]);
}

/** A number to keep to all the way: speed, load, pressure. */
const isBound = (finding: Finding): boolean =>
  (finding.group === 'tires' || finding.group === 'loads') && /^(\d|at most|no more)/.test(finding.keepTo ?? '');

/**
 * Where to begin when nothing stands in the way but ignorance: the unproven kind of part whose safety duties would cost most if they
 * failed, by the catalog's own estimates; the first of the walk-round where several cost the same.
 */
export function firstStepOf(
  catalog: Catalog,
  findings: readonly Finding[],
  kindOf: (finding: Finding) => string | null,
): string | null {
  if (findings.some((finding) => finding.kind === 'stop' && finding.counts === 'hold')) return null;
  const unproven = findings.filter((finding) => finding.kind === 'unproven' && finding.counts === 'hold');
  const kinds = new Set(unproven.map(kindOf));
  const stake = (kind: string): number =>
    (catalog.upkeepsOf.get(kind) ?? [])
      .filter((upkeep) => upkeep.severity === 'safety' && !upkeep.drill)
      .reduce((sum, upkeep) => sum + upkeep.failure.cost, 0);
  const candidates = [...catalog.partKinds.values()].filter((part) => kinds.has(part.id));
  const [first, ...others] = candidates;
  if (!first) return null;
  const part = others.reduce((best, other) => (stake(other.id) > stake(best.id) ? other : best), first);
  const look = part.identify[0];
  const head = `Begin the walk-round at: ${lower(part.name)}`;
  return look === undefined ? `${head}. Write down what you find.` : `${head}. ${look}`;
}
