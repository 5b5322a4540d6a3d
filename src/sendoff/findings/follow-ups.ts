import { formatDate } from '../../dates/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import { valueIn } from '../../quantity/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { cautionsOf, takesDoing, upkeepOf } from '../takes.ts';
import { countWord } from '../words.ts';
import { governing, subject } from './upkeep.ts';

/**
 * What recent work has left to be done: re-torque at 10, 25 and 50 miles. Overdue at departure it stops us; where it falls within
 * the trip it is a thing to do at a mile; where it falls on an earlier trip it is one to do on that; else it can wait.
 */
export function followUpFindings(context: Context, items: readonly OutlookItem[]): DraftFinding[] {
  const overdue = new Map<string, OutlookItem[]>();
  const others: OutlookItem[] = [];
  for (const item of items) {
    const job = `${item.upkeep}@${item.part}`;
    if (isOverdue(item)) overdue.set(job, [...(overdue.get(job) ?? []), item]);
    else others.push(item);
  }
  return [
    ...[...overdue].map(([job, missed]) => missedOnes(context, job, missed)),
    ...others.map((item) => followUp(context, item)),
  ];
}

const isOverdue = (item: OutlookItem): boolean => item.state === 'due' || item.state === 'failed';

/** Follow-ups of one job that were passed by: one check makes up for all of them. */
function missedOnes(context: Context, job: string, missed: readonly OutlookItem[]): DraftFinding {
  const last = missed.reduce((a, b) => ((b.follows?.atMiles ?? 0) > (a.follows?.atMiles ?? 0) ? b : a));
  const upkeep = upkeepOf(context.catalog, last);
  const count = missed.length === 1 ? 'overdue' : `${countWord(missed.length)} of them overdue`;
  return {
    id: `follow-ups/${job}`,
    group: 'follow-ups',
    kind: last.severity === 'safety' ? 'stop' : 'limit',
    severity: last.severity,
    upkeep: last.upkeep,
    part: last.part,
    text: `${subject(upkeep, [last])}: ${(governing(last)?.text ?? last.why).replace(/\.$/, '')}; ${count} before leaving.`,
    takes: takesDoing(context, upkeep, [last]),
    cautions: cautionsOf(context, upkeep),
    evidence: [...new Set(missed.flatMap((item) => item.evidence))],
    sources: last.sources,
  };
}

function followUp(context: Context, item: OutlookItem): DraftFinding {
  const upkeep = upkeepOf(context.catalog, item);
  const told = governing(item);
  const what = `${subject(upkeep, [item])}: ${(told?.text ?? item.why).replace(/\.$/, '')}`;
  const common = {
    id: `follow-ups/${item.id}`,
    group: 'follow-ups' as const,
    severity: item.severity,
    upkeep: item.upkeep,
    part: item.part,
    evidence: item.evidence,
    sources: item.sources,
  };
  const doing = { takes: takesDoing(context, upkeep, [item]), cautions: cautionsOf(context, upkeep) };
  if (item.state === 'unproven') {
    const missing = told?.missing ?? 'where the odometer stands';
    return { ...common, ...doing, kind: 'unproven', text: `${what}; not on record: ${missing}.` };
  }
  const miles = told?.left?.unit === undefined || item.follows === undefined ? undefined : valueIn(told.left, 'mi');
  if (miles !== undefined) {
    const mile = Math.max(0, Math.floor(miles - context.milesBefore));
    if (miles <= context.milesBefore && context.tripsBefore.length > 0) {
      return {
        ...common,
        ...doing,
        kind: 'limit',
        text: `${what}. It falls on ${earlier(context)}.`,
        keepTo: `on ${earlier(context)}`,
      };
    }
    if (miles - context.milesBefore <= context.milesMost) {
      const keepTo = `at mile ${mile} of this trip`;
      return { ...common, ...doing, kind: 'limit', text: `${what}. To do ${keepTo}.`, keepTo, atMiles: mile };
    }
  }
  const due = miles === undefined ? told?.dueOn : undefined;
  if (due !== undefined && due <= context.return) {
    // Days run whether the rig rolls or not: what falls due before leaving is done before leaving.
    const keepTo = `by ${formatDate(due, 'no-year')}`;
    return { ...common, ...doing, kind: 'limit', text: `${what}. To do ${keepTo}.`, keepTo, onDay: due };
  }
  return { ...common, kind: 'pass', text: `${what}; not within this trip.`, takes: null };
}

const earlier = (context: Context): string => context.tripsBefore[0]!.name;
