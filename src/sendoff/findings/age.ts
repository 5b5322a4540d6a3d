import type { Upkeep } from '../../catalog/index.ts';
import { decodeTireCode } from '../../codes/index.ts';
import { addMonths, formatDate, type PlainDate } from '../../dates/index.ts';
import { type PartState, partOf } from '../../logbook/index.ts';
import type { OutlookItem } from '../../outlook/index.ts';
import type { Context } from '../context.ts';
import type { DraftFinding } from '../draft.ts';
import { type Bend, chanceOf, itemFinding, runOut } from './upkeep.ts';

/**
 * Things that are renewed by their age: tires, alarms. Between the age from which renewing is advised and the one by which it must
 * be done, leaving is possible and said to be past the advice; at the limit, or where a label's date passes before the return, it
 * stops us. A part that can have been made over a span of days is taken as old as it can be.
 */
export function ageFinding(context: Context, upkeep: Upkeep, item: OutlookItem, bend: Bend = {}): DraftFinding {
  const plain = itemFinding(context, upkeep, item, bend);
  if (item.state === 'unproven' || item.state === 'failed') return plain;
  const limit = lastDay(context, upkeep, item);
  if (limit !== null && limit <= context.return) {
    const due = runOut(context, upkeep, [item], chanceOf(context, item), bend);
    return {
      ...due,
      text: `${due.text.replace(/\.$/, '')}; its limit of age is ${formatDate(limit, 'day')}, before we are back.`,
    };
  }
  if (plain.kind !== 'stop' && plain.kind !== 'limit') return plain;
  if (chanceOf(context, item) <= context.alpha(item.severity)) return plain;
  const until = limit === null ? '' : `; the limit is ${formatDate(limit, 'day')}`;
  const keepTo = upkeep.goWithLimits?.text ?? 'a look at every stop';
  const { onDay: _day, atMiles: _miles, ...rest } = plain;
  return {
    ...rest,
    kind: 'limit',
    text: `${plain.text.replace(/\.$/, '')}: past the age from which it is renewed${until}.`,
    keepTo,
  };
}

/** The day by which it must be renewed, taken as old as it can be; null where no limit can be told. */
function lastDay(context: Context, upkeep: Upkeep, item: OutlookItem): PlainDate | null {
  const clock = upkeep.clocks.find((one) => one.kind === 'age');
  const told = item.clocks.find((one) => one.kind === 'age');
  const part = item.part === null ? undefined : partOf(context.state, item.part);
  if (clock?.kind !== 'age' || !told || !part) return null;
  // A cylinder's stamps say themselves until when it may be filled.
  const stamped = part.fit.body.code !== undefined && context.catalog.partKinds.get(part.kind)?.code === 'cylinder';
  if (stamped || isLabelled(part)) return told.dueOn ?? null;
  const by = clock.by ?? clock.from;
  const born = clock.countedFrom === 'fitted' ? (part.fit.body.isNew ? part.fit.on : null) : madeFirst(context, part);
  return born === null || by === undefined ? null : addMonths(born, by);
}

/** Whether a date until which it is good is on record: on a label, a paper, or with work (a requalification stamp). */
function isLabelled({ fit, paper, work }: PartState): boolean {
  if (fit.body.goodThrough !== undefined || paper !== undefined) return true;
  return [...work.values()].some((done) => done.some((one) => one.outcome === 'good' && one.goodThrough !== undefined));
}

/** The first day on which a part can have been made. */
function madeFirst({ catalog, now }: Context, { kind, fit: { body } }: PartState): PlainDate | null {
  const { madeOn, code } = body;
  if (madeOn) return madeOn.length === 4 ? `${madeOn}-01-01` : madeOn.length === 7 ? `${madeOn}-01` : madeOn;
  if (!code || catalog.partKinds.get(kind)?.code !== 'tire') return null;
  const decoded = decodeTireCode(code, now);
  return decoded.valid ? decoded.from : null;
}
