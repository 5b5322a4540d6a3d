import type { Finding } from './types.ts';

/** Findings of one duty: on four wheels it is one thing to a person, told once with its places. */
export interface DutyTold {
  readonly key: string;
  readonly title: string;
  readonly places: readonly string[];
  readonly findings: readonly [Finding, ...Finding[]];
}

/** Findings under the headings by which a person acts on them. */
export interface FindingsTold {
  readonly stops: readonly DutyTold[];
  readonly unproven: readonly DutyTold[];
  /** Limits: to be done when leaving; to be done on the way; numbers to keep to and risks to weigh. */
  readonly leaving: readonly DutyTold[];
  readonly onTheWay: readonly DutyTold[];
  readonly limits: readonly DutyTold[];
  readonly waived: readonly DutyTold[];
  readonly passes: readonly DutyTold[];
}

/** A send-off's findings, in their order, duty by duty under their headings. */
export function findingsTold(findings: readonly Finding[]): FindingsTold {
  const under = new Map<keyof FindingsTold, Finding[]>();
  for (const finding of findings) {
    const heading = headingOf(finding);
    under.set(heading, [...(under.get(heading) ?? []), finding]);
  }
  const duties = (heading: keyof FindingsTold): DutyTold[] => dutiesOf(under.get(heading) ?? []);
  return {
    stops: duties('stops'),
    unproven: duties('unproven'),
    leaving: duties('leaving'),
    onTheWay: duties('onTheWay'),
    limits: duties('limits'),
    waived: duties('waived'),
    passes: duties('passes'),
  };
}

function headingOf({ kind, waived, onLeaving, atMiles, onDay }: Finding): keyof FindingsTold {
  if (waived) return 'waived';
  if (kind === 'stop') return 'stops';
  if (kind === 'unproven') return 'unproven';
  if (kind === 'pass') return 'passes';
  if (onLeaving) return 'leaving';
  return atMiles !== undefined || onDay !== undefined ? 'onTheWay' : 'limits';
}

/** Findings of one duty together, in the order in which they come; what is due at several miles is as many duties. */
export function dutiesOf(findings: readonly Finding[]): DutyTold[] {
  const byDuty = new Map<string, [Finding, ...Finding[]]>();
  for (const finding of findings) {
    const { upkeep, atMiles } = finding;
    const key = upkeep === null ? finding.id : atMiles === undefined ? upkeep : `${upkeep}/${atMiles}`;
    const known = byDuty.get(key);
    if (known) known.push(finding);
    else byDuty.set(key, [finding]);
  }
  return [...byDuty].map(([key, together]) => ({
    key,
    title: together[0].title,
    places: [...new Set(together.flatMap((finding) => finding.places))],
    findings: together,
  }));
}
