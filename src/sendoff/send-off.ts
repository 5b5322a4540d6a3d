import type { Catalog } from '../catalog/index.ts';
import { formatDate, type PlainDate } from '../dates/index.ts';
import { type RigState, soundState, type TripState, tripsOf, vehicleOf } from '../logbook/index.ts';
import type { Outlook, OutlookItem } from '../outlook/index.ts';
import { fail, ok, type Problem, type Result } from '../problem/index.ts';
import { type Context, contextOf } from './context.ts';
import type { DraftFinding } from './draft.ts';
import { asideOf } from './findings/aside.ts';
import { brakeFindings } from './findings/brakes.ts';
import { followUpFindings } from './findings/follow-ups.ts';
import { gasFindings } from './findings/gas.ts';
import { kitFindings } from './findings/kit.ts';
import { loadFindings } from './findings/loads.ts';
import { paperFindings } from './findings/papers.ts';
import { practiceFindings } from './findings/practice.ts';
import { rigFindings } from './findings/rig.ts';
import { tireFindings } from './findings/tires.ts';
import { upkeepFindings } from './findings/upkeep.ts';
import { groupOf } from './groups.ts';
import { judgementOf, weigh } from './judge.ts';
import { firstStepOf, sentenceOf } from './sentence.ts';
import type { FindingGroup, SendOff } from './types.ts';
import { asLeft } from './under-way.ts';

type Check = (context: Context, items: readonly OutlookItem[]) => DraftFinding[];

/** Which file answers for which heading. Each duty of the outlook belongs to just one. */
const CHECKS: readonly (readonly [FindingGroup, Check])[] = [
  ['rig', rigFindings],
  ['upkeep', upkeepFindings],
  ['follow-ups', followUpFindings],
  ['tires', tireFindings],
  ['loads', loadFindings],
  ['brakes', brakeFindings],
  ['gas', gasFindings],
  ['papers', paperFindings],
  ['practice', practiceFindings],
  ['kit', kitFindings],
];

/**
 * The judgement on one trip, as things stand on `now`.
 *
 * @param input.outlook the outlook of the same state on the same day
 * Problems: `sendoff.no-trailer`, `sendoff.no-trip`, `sendoff.trip-unknown`, `sendoff.trip-done`, `sendoff.trip-past`.
 */
export function sendOff(input: {
  readonly state: RigState;
  readonly catalog: Catalog;
  readonly outlook: Outlook;
  readonly trip: string;
  readonly now: PlainDate;
}): Result<SendOff> {
  const { catalog, outlook, now } = input;
  const state = soundState(input.state, catalog);
  if (outlook.now !== now) throw new Error(`invariant: the outlook is of ${outlook.now}, the send-off of ${now}`);
  const trip = tripToJudge(state, input.trip, now);
  if (!trip.ok) return trip;
  const ahead = outlook.trips.find((other) => other.trip === trip.value.id);
  if (!ahead) throw new Error(`invariant: the outlook does not know the trip ${trip.value.id}`);
  const context = contextOf({ state, catalog, outlook, now, trip: trip.value, ahead });
  const findings = weigh(context, draftsOf(context));
  const judgement = judgementOf(findings);
  const { body } = trip.value.plan;
  return ok({
    now,
    trip: {
      id: trip.value.id,
      name: body.name,
      leave: body.leave,
      return: body.return,
      miles: context.show(body.miles),
    },
    judgement,
    sentence: sentenceOf(context, judgement, findings),
    firstStep: firstStepOf(catalog, findings, kindOf(context)),
    findings,
  });
}

function draftsOf(context: Context): readonly DraftFinding[] {
  const byGroup = new Map<FindingGroup, OutlookItem[]>();
  for (const seen of context.outlook.items) {
    const item = asLeft(context, seen);
    const group = groupOf(context, item);
    byGroup.set(group, [...(byGroup.get(group) ?? []), item]);
  }
  return CHECKS.flatMap(([group, check]) => check(context, byGroup.get(group) ?? []));
}

function tripToJudge(state: RigState, id: string, now: PlainDate): Result<TripState> {
  if (!vehicleOf(state, 'trailer')) {
    return fail({
      code: 'sendoff.no-trailer',
      what: because(
        'No trailer is enrolled in this logbook',
        asideOf(state, (entry) => entry.kind === 'enroll' && entry.body.vehicle === 'trailer'),
      ),
      expected: 'an `enroll` entry for the trailer',
      next: 'Enroll the trailer with its name and ratings, then plan a trip.',
    });
  }
  const planned = tripsOf(state);
  const trip = planned.find((one) => one.id === id);
  const coming = planned.filter((one) => !one.done && one.plan.body.return >= now);
  if (trip && !trip.done && trip.plan.body.return >= now) return ok(trip);
  const aside = asideOf(
    state,
    (entry) => (entry.kind === 'trip' || entry.kind === 'trip-done') && entry.body.trip === id,
  );
  const problem = tripProblem(id, trip, coming);
  return fail({ ...problem, what: because(problem.what, aside) });
}

const because = (what: string, aside: string): string => (aside === '' ? what : `${what}. ${aside}`);

function tripProblem(id: string, trip: TripState | undefined, coming: readonly TripState[]): Problem {
  const names = coming.map(({ id: other, plan }) => `${other} (${formatDate(plan.body.leave, 'day')})`).join(', ');
  const expected = coming.length === 0 ? 'a planned trip; none is ahead' : `one of ${names}`;
  const where = `trip ${id}`;
  if (trip?.done) {
    return { code: 'sendoff.trip-done', what: `The trip “${trip.plan.body.name}” is over`, where, expected };
  }
  if (trip) {
    const back = formatDate(trip.plan.body.return, 'day');
    return {
      code: 'sendoff.trip-past',
      what: `The trip “${trip.plan.body.name}” was to be back on ${back}`,
      where,
      expected,
      next: 'Write down that it is done, or plan it again.',
    };
  }
  if (coming.length === 0) {
    return { code: 'sendoff.no-trip', what: 'No trip is planned', where, expected, next: 'Plan a trip first.' };
  }
  return { code: 'sendoff.trip-unknown', what: `No trip “${id}” is planned`, where, expected };
}

/** The kind of part a finding speaks of: by its part, its upkeep, or the kind none of which is on record. */
function kindOf({ parts, catalog }: Context) {
  const byPart = new Map(parts.map((part) => [part.id, part.kind]));
  return (finding: { id: string; part: string | null; upkeep: string | null }): string | null => {
    if (finding.part !== null) return byPart.get(finding.part) ?? null;
    if (finding.upkeep !== null) return catalog.upkeeps.get(finding.upkeep)?.part ?? null;
    const unknown = /\/unknown-(.+)$/.exec(finding.id)?.[1];
    return unknown !== undefined && catalog.partKinds.has(unknown) ? unknown : null;
  };
}
